/**
 * Signing for what changed hands: what is kept while it is being signed, whether it stands, and
 * how it is told. Usage, on the sheet of a visit's end (a pickup's, a delivery's, a counter's):
 *
 *   const sheet = useSheet(key, { count: "", ...BLANK_SIGNING });
 *   const lines = casings.map((c) => ({ label: c.label, on: c.promised?.on ?? "" }));
 *   <Signing sheet={sheet} lines={lines} fault={fault} onBusy={setBusy} />      (Signing.tsx)
 *   const fault = signingFault(sheet, lines, w);       // not null: show it, enter nothing
 *   const { told, photos } = await signedFor(sheet, lines, phone.camera);
 *   await sheet.enter(finishPickup({ ...visit, ...told }), photos);
 *
 * `otherPhotos(sheet)` are the sheet's photos that are no drawing. Styles: signing.css.
 */
import type { SignedFor } from "../../domain/operation";
import { type Counted, NOTHING_COUNTED, shownText } from "../../domain/shown";
import type { Camera } from "../../ports/camera";
import type { DraftPhoto } from "../../store/local";
import type { Photo } from "../../store/outbox.schema";
import type { Words } from "../words.en";

/** A line of the list that is signed; `said` are words beside it that the signature leaves out. */
export interface SignedLine {
  label: string;
  /** The promised day, or "". */
  on: string;
  said?: string;
  /** Damage that stops it, with its caution: stands apart, and is left out as well. */
  stop?: string;
}

export interface SigningFields {
  signer: string;
  nobody: boolean;
  /** Why nobody signs. */
  unsigned: string;
  /** Hashes of the drawings made on this sheet; the last is the one that counts. */
  drawn: string[];
  /** The list, as its text, that was on the screen when they signed, and its language. */
  covers: string;
  signed_in: "" | "en" | "es";
  /** Nobody of the customer's is at hand. */
  nobody_there: boolean;
}

/** What signing needs of a sheet (`useSheet`), whatever else the sheet holds. */
export interface SigningSheet {
  ready: boolean;
  fields: SigningFields;
  photos: DraftPhoto[];
  fill(some: Partial<SigningFields>): void;
  addPhoto(blob: Blob): Promise<void>;
  dropPhoto(sha256: string): Promise<void>;
}

export const BLANK_SIGNING: SigningFields = {
  signer: "",
  nobody: false,
  unsigned: "",
  drawn: [],
  covers: "",
  signed_in: "",
  nobody_there: false,
};

/** What the wire takes of a name. */
export const SIGNER_MOST = 120;

/** The drawing that counts, if there is one. */
export function drawing({ fields, photos }: Pick<SigningSheet, "fields" | "photos">) {
  const last = fields.drawn.at(-1);
  return photos.find(({ sha256 }) => sha256 === last) ?? null;
}

/** The sheet's photos that are no drawing, earlier ones included. */
export const otherPhotos = ({ fields, photos }: Pick<SigningSheet, "fields" | "photos">) =>
  photos.filter(({ sha256 }) => !fields.drawn.includes(sha256));

/** Somebody signed, by name or drawing, for a list that is another one by now. */
export const signedAnother = (
  sheet: Pick<SigningSheet, "fields" | "photos">,
  lines: SignedLine[],
  counted: Counted = NOTHING_COUNTED,
): boolean => {
  const { nobody, signer, covers } = sheet.fields;
  const signed = !nobody && (signer.trim() !== "" || drawing(sheet) !== null);
  return signed && covers !== shownText(lines, counted);
};

export interface SigningFault {
  /** The id of the field to go to. */
  at: "signer" | "unsigned" | "sign-again";
  said: string;
}

/** Why this cannot be told yet, or null: a name that stands under this list, or why there is none. */
export function signingFault(
  sheet: Pick<SigningSheet, "fields" | "photos">,
  lines: SignedLine[],
  w: Words,
  counted: Counted = NOTHING_COUNTED,
): SigningFault | null {
  const { fields } = sheet;
  if (fields.nobody)
    return fields.unsigned.trim() === "" ? { at: "unsigned", said: w.sign_why_missing } : null;
  if (fields.signer.trim() === "") return { at: "signer", said: w.sign_name_missing };
  return signedAnother(sheet, lines, counted) ? { at: "sign-again", said: w.sign_again } : null;
}

/** What is told, and the drawing that goes with it. */
export async function signedFor(
  sheet: Pick<SigningSheet, "fields" | "photos">,
  lines: SignedLine[],
  camera: Camera,
  counted: Counted = NOTHING_COUNTED,
): Promise<{ told: Required<SignedFor>; photos: Photo[] }> {
  const { fields } = sheet;
  const shown = await camera.hash(new Blob([shownText(lines, counted)]));
  const drawn = fields.nobody ? null : drawing(sheet);
  return {
    told: {
      nobody_there: fields.nobody && fields.nobody_there,
      signer: fields.nobody ? "" : fields.signer.trim(),
      signed_in: fields.nobody ? "" : fields.signed_in,
      unsigned: fields.nobody ? fields.unsigned.trim() : "",
      signature: drawn?.sha256 ?? null,
      shown,
    },
    photos: drawn === null ? [] : [{ sha256: drawn.sha256, blob: drawn.blob }],
  };
}

/** The promised days of a list, together: the last of them, and how many have none. */
export function promisedTogether(lines: SignedLine[]): {
  last: string;
  same: boolean;
  open: number;
} {
  const days = lines.map(({ on }) => on).filter((on) => on !== "");
  const last = [...days].sort().at(-1) ?? "";
  return { last, same: days.every((on) => on === last), open: lines.length - days.length };
}
