/** A casing as it is typed at a counter, and what is told once it is saved. Pure. */
import { tidy } from "../../domain/labels";
import type { Line, PickUp } from "../../domain/operation";
import type { Casing, VisitLine } from "../../domain/rows";
import {
  BLANK_SEEN,
  type Checked,
  lineFor,
  type SeenFields,
  seenOf,
  seenPayload,
} from "../seen/seen";
import { BLANK_WANTED, carriedOn, type Wanted, type WantedFields } from "../wanted/wanted";
import { carriedRan } from "../yard/ran";
import { tinLine, tinsIn } from "./tins";
import { treadsIn } from "./treads";

export interface EntryFields {
  /** Empty: the label that is proposed. */
  label: string;
  /** The line of TINs as typed. */
  tin: string;
  /** The line of treads as typed. */
  treads: string;
  /** A code that is being typed. */
  code: string;
  /** What was said of this casing; the rest is as the casing before. */
  seen: Partial<SeenFields>;
  /** Null: as the casing before. */
  wanted: WantedFields | null;
  note: string;
  /** Photos that it has already; new ones live beside the sheet. */
  photos: string[];
}

export const BLANK_ENTRY: EntryFields = {
  label: "",
  tin: "",
  treads: "",
  code: "",
  seen: {},
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

/** What the casings of one visit mostly have in common; the unit goes with what is wanted. */
export function carriedSeen(before: Casing | undefined): Partial<SeenFields> {
  if (before === undefined) return {};
  const { line, size, brand } = seenOf(before);
  return { line, size, brand, ...carriedRan(before) };
}

/** The whole sheet as far as it is filled in; what cannot be read yet is left out. */
export function seenFor(
  fields: EntryFields,
  before: Casing | undefined,
  today: string,
): SeenFields {
  const treads = treadsIn(fields.treads);
  return {
    ...BLANK_SEEN,
    ...carriedSeen(before),
    ...fields.seen,
    tins: tinsIn(fields.tin, today),
    treads: "places" in treads ? treads.places : [],
  };
}

/** A day is promised for work; what we may buy, a claim and a loose wheel wait for a word. */
export const isPromised = (line: Line): boolean =>
  line === "retread" || line === "repair" || line === "wheel_tire";

/** What was left with its customer and is taken after all: it need not be typed again. */
export const takenAfterAll = (line: VisitLine): Partial<EntryFields> => ({
  tin: tinLine(line.tins),
  seen: { size: line.size, brand: line.brand, findings: line.findings },
  note: line.note,
  photos: line.photos,
});

export function entered(
  at: { pickup: string; yard: string; store: string },
  told: {
    label: string;
    seen: SeenFields;
    checked: Checked | null;
    wanted: Wanted;
    note: string;
    photos: string[];
  },
): PickUp {
  const { seen, wanted } = told;
  const line = lineFor(seen.line, wanted.work);
  return {
    ...at,
    label: tidy(told.label),
    ...seenPayload(seen, told.checked),
    ...wanted,
    promised: isPromised(line) ? wanted.promised : null,
    line,
    note: told.note.trim(),
    photos: told.photos,
    corrects: null,
  };
}
