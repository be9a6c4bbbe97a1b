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
import type { Refused, SignedFor } from "../../domain/operation";
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
  /** Nobody signs: they will not, or nobody is there. */
  nobody: boolean;
  /** They will not sign, and the key of why. */
  refused: Refused;
  /** Why nobody signs, in words. */
  unsigned: string;
  /** Hashes of the drawings made on this sheet; the last is the one that counts. */
  drawn: string[];
  /** The list, as its text, that was on the screen when they signed, and its language. */
  covers: string;
  signed_in: "" | "en" | "es";
  /** The language that the list was turned into for who reads it. */
  reads_in: "" | "en" | "es";
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
  refused: "",
  unsigned: "",
  drawn: [],
  covers: "",
  signed_in: "",
  reads_in: "",
  nobody_there: false,
};

/** How a visit is signed for. */
export type Ending = "signs" | "refuses" | "nobody";
export const ENDINGS: Ending[] = ["signs", "refuses", "nobody"];
/** Where something is given into somebody's hands. */
export const IN_PERSON: Ending[] = ["signs", "refuses"];
/** Why they will not sign, in the order offered. */
export const REFUSALS: Exclude<Refused, "">[] = ["count", "condition", "authority", "other"];

export const endingOf = ({ nobody, nobody_there }: SigningFields): Ending =>
  nobody ? (nobody_there ? "nobody" : "refuses") : "signs";

export const endedAs = (ending: Ending): Partial<SigningFields> => ({
  nobody: ending !== "signs",
  nobody_there: ending === "nobody",
});

/**
 * The list was turned into another language to be read, so that is how it is signed. Back in the
 * holder's own language it may be the holder who reads, after a signature: that changes nothing.
 */
export const readBy = (
  reads_in: "en" | "es",
  holders: "en" | "es",
): Pick<SigningFields, "reads_in"> & Partial<SigningFields> =>
  reads_in === holders ? { reads_in } : { reads_in, signed_in: reads_in };

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
  at: "signer" | "refused" | "unsigned" | "sign-again";
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
  if (endingOf(fields) === "nobody") return null;
  if (fields.nobody) {
    if (fields.refused === "") return { at: "refused", said: w.sign_refused_missing };
    const silent = fields.refused === "other" && fields.unsigned.trim() === "";
    return silent ? { at: "unsigned", said: w.sign_why_missing } : null;
  }
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
      refused: endingOf(fields) === "refuses" ? fields.refused : "",
      signer: fields.nobody ? "" : fields.signer.trim(),
      signed_in: fields.nobody ? "" : fields.signed_in,
      unsigned: fields.nobody ? fields.unsigned.trim() : "",
      signature: drawn?.sha256 ?? null,
      shown,
    },
    photos: drawn === null ? [] : [{ sha256: drawn.sha256, blob: drawn.blob }],
  };
}

/** In words: who signed, or why nobody did; null where neither was told. */
export function signedSaid(told: SignedFor, w: Words): string | null {
  const { signer, unsigned = "", refused = "" } = told;
  if (signer) return w.signed_by(signer);
  const why = told.nobody_there ? w.unsigned_nobody : refused ? w.unsigned_refused[refused] : "";
  if (why === "") return unsigned ? w.unsigned_because(unsigned) : null;
  return unsigned ? `${why} ${unsigned}` : why;
}

/**
 * The promised days of a list as one sentence: those of each casing for itself. By when all are
 * back together is later than the latest of them, and only a forecast says it (wanted/offer.ts).
 */
export function daysSaid(lines: SignedLine[], w: Words, day: (day: string) => string): string {
  const { last, same, open } = promisedTogether(lines);
  if (last === "") return w.promised_open;
  const one = same && open === 0;
  const by = one ? w.sign_same_day(lines.length, day(last)) : w.sign_latest(day(last));
  return open === 0 ? by : `${by}, ${w.sign_some_open(open)}`;
}

/** The promised days of a list: the last of them, and how many have none. */
export function promisedTogether(lines: SignedLine[]): {
  last: string;
  same: boolean;
  open: number;
} {
  const days = lines.map(({ on }) => on).filter((on) => on !== "");
  const last = [...days].sort().at(-1) ?? "";
  return { last, same: days.every((on) => on === last), open: lines.length - days.length };
}
