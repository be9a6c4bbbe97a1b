/** A casing's sheet as it is being filled in, and what is told once it is saved. */
import * as labels from "../../domain/labels";
import type { Original, PickUp } from "../../domain/operation";
import { isNamed } from "../../domain/replaced";
import type { Casing, Pickup } from "../../domain/rows";
import {
  asksWork,
  BLANK_SEEN,
  type Checked,
  carriedLine,
  lineFor,
  type SeenFields,
  seenOf,
  seenPayload,
} from "../seen/seen";
import { type Wanted, type WantedFields, wantedOf } from "../wanted/wanted";
import type { Words } from "../words.en";
import { carriedRan } from "./ran";
import { sized } from "./sizeText";
import { putRight } from "./tinSlips";

export interface CasingFields extends SeenFields {
  label: string;
  /** Null: as the casing before it on this pickup. */
  wanted: WantedFields | null;
  /** False: it is the kind of thing that the casing before it on this pickup was. */
  line_own: boolean;
  /** False: position and odometer are those of the casing before it on this pickup. */
  ran_own: boolean;
  note: string;
  /** Photos that the casing has already, when it is corrected. */
  photos: string[];
}

/** What the wire takes of photos of one casing. */
export const MOST_PHOTOS = 12;
/** Fills in; a function is given what was filled in last, which the screen may not show yet. */
export type FillCasing = (
  some: Partial<CasingFields> | ((latest: CasingFields) => Partial<CasingFields>),
) => void;

export const MOST_GROOVES = 12;
/** What the wire takes of a note or a reason. */
export const NOTE_MOST = 500;
const NEAR_THE_END = 60;

export const BLANK: CasingFields = {
  label: "",
  ...BLANK_SEEN,
  wanted: null,
  line_own: false,
  ran_own: false,
  note: "",
  photos: [],
};

export const fieldsOf = (casing: Casing): CasingFields => ({
  label: labels.shown(casing.label),
  ...seenOf(casing),
  wanted: wantedOf(casing),
  line_own: true,
  ran_own: true,
  note: casing.note,
  photos: casing.photos,
});

/** As it is told when it is saved now: with what is carried on, and slips put right. */
export function toldOf(
  fields: CasingFields,
  before: Casing | undefined,
  today: string,
): CasingFields {
  return {
    ...fields,
    line: fields.line_own ? fields.line : carriedLine(before),
    ...(fields.ran_own ? {} : carriedRan(before)),
    ...sized(fields),
    tins: fields.tins.map(({ made, tin }) => ({ made, tin: putRight(tin, today) })),
  };
}

export const originalOf = (casing: Casing): Original => ({
  fact: casing.id,
  label: casing.told_label,
});

export function payloadOf(
  at: { pickup: string; yard: string; store: string | null },
  fields: CasingFields,
  checked: Checked | null,
  wanted: Wanted,
  newPhotos: string[],
  corrects: Original | null,
): PickUp {
  return {
    ...at,
    label: labels.tidy(fields.label),
    ...seenPayload(fields, checked),
    ...wanted,
    promised: asksWork(fields.line) ? wanted.promised : null,
    line: lineFor(fields.line, wanted.work),
    note: fields.note.trim(),
    photos: [...fields.photos, ...newPhotos.filter((sha) => !fields.photos.includes(sha))],
    corrects,
  };
}

/** What is wrong with a label, in words; null for a sound one. */
export function labelFault(typed: string, w: Words): string | null {
  const candidate = labels.tidy(typed);
  const fault = labels.fault(candidate);
  if (fault === null) return null;
  const odd = [...candidate].find((c) => !labels.SYMBOLS.includes(c)) ?? "";
  return {
    empty: w.label_empty,
    wrong_length: w.label_length([...candidate].length),
    symbol_not_used: w.label_symbol(odd),
    first_not_a_letter: w.label_first,
    check_does_not_fit: w.label_check,
  }[fault];
}

/** How much more a note takes, said near its end only: a field that is full cuts off silently. */
export function roomLeft(note: string, w: Words): string | null {
  const left = NOTE_MOST - note.length;
  if (left > NEAR_THE_END) return null;
  return left > 0 ? w.room_left(left) : w.room_none(NOTE_MOST);
}

/** The other casing that a person is asked about before saving: a correction that leaves the label
 * as it is claims nothing anew. */
export const askedAbout = (
  pickups: Pickup[],
  label: string,
  corrects: Casing | null,
): ReturnType<typeof twin> =>
  corrects?.label === label ? null : twin(pickups, label, corrects?.id ?? null);

/** Where a label stands already on this phone, but for the casing that is being corrected. */
export function twin(
  pickups: Pickup[],
  label: string,
  but: string | null,
): { pickup: Pickup; casing: Casing } | null {
  for (const pickup of pickups) {
    for (const casing of pickup.casings) {
      // A casing that is back with its owner may come again under the same label.
      if (isNamed(casing, label) && casing.id !== but && casing.progress !== "returned")
        return { pickup, casing };
    }
  }
  return null;
}
