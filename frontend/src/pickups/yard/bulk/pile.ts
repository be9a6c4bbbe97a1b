/**
 * Photos of a pile where nobody was there: before and after. Told in this order among the visit's
 * photos: the first is of the pile before, the last of what is left after. Pure.
 */
import type { DraftPhoto } from "../../../store/local";
import type { Words } from "../../words.en";

export interface PileFields {
  /** Hashes, in the order taken. */
  before: string[];
  after: string[];
}

export const BLANK_PILE: PileFields = { before: [], after: [] };
/** Of each; both together are no more than the wire takes of a visit. */
export const PILE_MOST = 6;

export interface PileFault {
  at: "pile-before" | "pile-after";
  said: string;
}

interface Kept {
  fields: PileFields;
  photos: DraftPhoto[];
}

export const pileOf = ({ fields, photos }: Kept, which: keyof PileFields): DraftPhoto[] =>
  fields[which].flatMap((sha256) => photos.find((photo) => photo.sha256 === sha256) ?? []);

/** One photo stands for one side: told as the later one, it would be both. */
export const onSide = (fields: PileFields, which: keyof PileFields, sha256: string): PileFields => {
  const others = (hashes: string[]) => hashes.filter((one) => one !== sha256);
  const cleared = { before: others(fields.before), after: others(fields.after) };
  return { ...cleared, [which]: [...cleared[which], sha256] };
};

/** The pile's photos in the order that they are told. */
export const pilePhotos = (sheet: Kept): DraftPhoto[] => [
  ...pileOf(sheet, "before"),
  ...pileOf(sheet, "after"),
];

/** Which of both is missing where nobody was there. */
export function pileFault(sheet: Kept, w: Words): PileFault | null {
  if (pileOf(sheet, "before").length === 0)
    return { at: "pile-before", said: w.pile_before_missing };
  return pileOf(sheet, "after").length === 0
    ? { at: "pile-after", said: w.pile_after_missing }
    : null;
}
