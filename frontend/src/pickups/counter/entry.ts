/** A casing as it is typed at a counter, and what is told once it is saved. Pure. */
import { tidy } from "../../domain/labels";
import type { PickUp } from "../../domain/operation";
import type { Casing } from "../../domain/rows";
import { BLANK_SEEN, lineFor, seenPayload } from "../seen/seen";
import { BLANK_WANTED, carriedOn, type Wanted, type WantedFields } from "../wanted/wanted";
import { treadsIn } from "./treads";

export interface EntryFields {
  /** Empty: the label that is proposed. */
  label: string;
  tin: string;
  /** Null: as the casing before. */
  size: string | null;
  treads: string;
  wanted: WantedFields | null;
  note: string;
  /** Photos live beside the sheet; this is for the block that takes them. */
  photos: string[];
}

export const BLANK_ENTRY: EntryFields = {
  label: "",
  tin: "",
  size: null,
  treads: "",
  wanted: null,
  note: "",
  photos: [],
};

/** What is fetched at the counter is fetched at the counter again, until somebody says otherwise. */
export const firstWanted: WantedFields = { ...BLANK_WANTED, back_to: "store" };

export const wantedFor = (
  fields: EntryFields,
  before: Casing | undefined,
  today: string,
): WantedFields => fields.wanted ?? (before === undefined ? firstWanted : carriedOn(before, today));

export const sizeFor = (fields: EntryFields, before: Casing | undefined): string =>
  fields.size ?? before?.size ?? "";

export function entered(
  at: { pickup: string; yard: string; store: string },
  told: { label: string; size: string; fields: EntryFields; wanted: Wanted; photos: string[] },
): PickUp {
  const { fields } = told;
  const treads = treadsIn(fields.treads);
  return {
    ...at,
    label: tidy(told.label),
    ...seenPayload(
      {
        ...BLANK_SEEN,
        tins: [{ tin: fields.tin, made: "" }],
        size: told.size,
        treads: "depths" in treads ? [treads.depths] : [],
      },
      null,
    ),
    ...told.wanted,
    line: lineFor("retread", told.wanted.work),
    note: fields.note.trim(),
    photos: told.photos,
    corrects: null,
  };
}
