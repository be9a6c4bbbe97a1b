/**
 * One casing at a station as it is being answered: what the sheet holds, what keeps an answer from
 * being told, and what is told then. Pure.
 */
import { fault, tidy } from "../domain/labels";
import type { Side, Zone } from "../domain/operation";
import type {
  Built,
  Cause,
  Lot,
  Material,
  Measured,
  Outcome,
  StationFinding,
  Tell,
} from "../domain/plantTelling";
import type { Work } from "./rows";
import type { More } from "./stations";

export interface Find {
  zone: Zone;
  side: Side;
  kind: string;
  size_mm: number | null;
  count: number;
  photos: string[];
}

export type Gauge = keyof Measured;

/** As it is typed; numbers are read when it is told. */
export interface AnswerFields {
  /** Empty: waits for a scan. */
  label: string;
  findings: Find[];
  /** The answer whose form is open. */
  open: "" | "repair" | "rejected" | "hold" | "released";
  reason: string;
  cause: "" | Cause;
  note: string;
  /** Why it goes on though it differs from its order. */
  differs_note: string;
  /** The hold, rejection or difference that is to be released. */
  releases: string;
  again_at: string;
  gauges: Partial<Record<Gauge, string>>;
  envelope: string;
  tag: string;
  tread_design: string;
  fleet_brand: string;
  retread_tin: string;
  caps: string;
}

export const BLANK_ANSWER: AnswerFields = {
  label: "",
  findings: [],
  open: "",
  reason: "",
  cause: "",
  note: "",
  differs_note: "",
  releases: "",
  again_at: "",
  gauges: {},
  envelope: "",
  tag: "",
  tread_design: "",
  fleet_brand: "",
  retread_tin: "",
  caps: "",
};

/** Most symbols of each of the two texts; told as one note, which the wire takes with 500. */
export const NOTE_MOST = { why: 290, differs: 200 };

/** Nothing but the scan is on the sheet: the next scan may take its place. */
export const isUntouched = (fields: AnswerFields, photos: number): boolean =>
  photos === 0 &&
  JSON.stringify({ ...fields, label: "", open: "" }) === JSON.stringify(BLANK_ANSWER);

/** What the wire takes of each gauge. */
export const BOUNDS: Record<Gauge, [number, number]> = {
  circumference_mm: [1000, 6000],
  crown_width_mm: [50, 700],
  buffed_radius_mm: [100, 2000],
  texture: [0, 10],
  tread_width_mm: [50, 700],
  tread_length_mm: [1000, 6000],
};

/** A number as typed, with a point or a comma; null where nothing is typed, `none` for no number. */
export function measure(typed: string, [least, most]: [number, number]): number | null | "none" {
  const text = typed.trim().replace(",", ".");
  if (text === "") return null;
  const value = /^\d{1,4}(?:\.\d{1,2})?$/.test(text) ? Number(text) : Number.NaN;
  return value >= least && value <= most ? value : "none";
}

export function measured(gauges: AnswerFields["gauges"]): Measured | null {
  const told = (Object.entries(gauges) as [Gauge, string][]).flatMap(([gauge, typed]) => {
    const value = measure(typed, BOUNDS[gauge]);
    return typeof value === "number" ? [[gauge, value]] : [];
  });
  return told.length === 0 ? null : (Object.fromEntries(told) as Measured);
}

/** What keeps an answer from being told, by the field to go to; null where nothing does. */
export type Missing =
  | "reason"
  | "cause"
  | "note"
  | "gauge"
  | "envelope"
  | "load"
  | "built"
  | "caps"
  | "tag"
  | "tag_fault"
  | "tag_same"
  | "tag_taken"
  | "lots"
  | "differences"
  | "released_first"
  | "again";

export function missing(
  outcome: Outcome,
  fields: AnswerFields,
  at: {
    work: Work;
    works: Map<string, Work>;
    more: More[];
    materials: Material[];
    lots: Lot[];
    load: string;
    differs: boolean;
    behind: boolean;
    /** It was asked before whether it goes on without a lot. */
    without: boolean;
  },
): Missing | null {
  if (outcome === "released") return fields.note.trim() === "" ? "note" : null;
  if (outcome === "rejected" && fields.reason === "") return "reason";
  if (outcome === "rejected" && fields.cause === "") return "cause";
  if (outcome === "hold" && fields.note.trim() === "") return "note";
  // What was measured is told with whatever the answer is.
  const off = (Object.entries(fields.gauges) as [Gauge, string][]).some(
    ([gauge, typed]) => measure(typed, BOUNDS[gauge]) === "none",
  );
  if (off) return "gauge";
  if (at.more.includes("built") && measure(fields.caps, [1, 20]) === "none") return "caps";
  if (outcome === "rejected" || outcome === "hold") return null;
  if (outcome === "repair") return at.behind && fields.again_at === "" ? "again" : null;
  if (at.more.includes("envelope") && fields.envelope.trim() === "") return "envelope";
  if (at.more.includes("load") && at.load === "") return "load";
  if (at.more.includes("built")) {
    if (fields.retread_tin.trim() === "" || fields.tread_design.trim() === "") return "built";
    if (at.differs && fields.differs_note.trim() === "") return "differences";
  }
  if (at.more.includes("tag")) {
    if (fields.tag.trim() === "") return "tag";
    const no = tagFault(fields, at.work, at.works);
    if (no !== null) return no;
    if (at.work.differences.length > 0) return "released_first";
  }
  if (at.materials.length > 0 && at.lots.length === 0 && !at.without) return "lots";
  return null;
}

/** Why what was read is no finished tag for this casing: it would join two casings under one. */
export function tagFault(
  { label, tag: typed }: AnswerFields,
  work: Work,
  works: Map<string, Work>,
): "tag_fault" | "tag_same" | "tag_taken" | null {
  const tag = tidy(typed);
  if (fault(tag) !== null) return "tag_fault";
  if (tag === label || work.labels.includes(tag)) return "tag_same";
  return works.has(tag) ? "tag_taken" : null;
}

const noteOf = ({ note, differs_note }: AnswerFields): string =>
  [note.trim(), differs_note.trim()].filter(Boolean).join(" · ");

const builtOf = (fields: AnswerFields): Built | null => {
  const told: Built = {};
  if (fields.tread_design.trim() !== "") told.tread_design = fields.tread_design.trim();
  if (fields.fleet_brand.trim() !== "") told.fleet_brand = fields.fleet_brand.trim();
  if (fields.retread_tin.trim() !== "")
    told.retread_tin = fields.retread_tin.trim().toUpperCase().replaceAll(/\s+/g, " ");
  const caps = measure(fields.caps, [1, 20]);
  if (typeof caps === "number") told.caps = caps;
  return Object.keys(told).length === 0 ? null : told;
};

const findingOf = ({ zone, side, kind, size_mm, count, photos }: Find): StationFinding => ({
  zone,
  kind,
  ...(side === "" ? {} : { side }),
  ...(size_mm === null ? {} : { size_mm }),
  ...(count === 1 ? {} : { count }),
  ...(photos.length === 0 ? {} : { photos }),
});

/** What is told; `photos`: every hash that lies with the sheet. */
export function told(
  outcome: Outcome,
  fields: AnswerFields,
  at: {
    station: string;
    more: More[];
    machine: string;
    lots: Lot[];
    load: string;
    photos: string[];
  },
): Tell {
  const of = new Set(fields.findings.flatMap(({ photos }) => photos));
  const whole = at.photos.filter((sha256) => !of.has(sha256));
  const gauges = measured(fields.gauges);
  const done = outcome === "passed" || outcome === "finished";
  const built = at.more.includes("built") ? builtOf(fields) : null;
  const note = noteOf(fields);
  return {
    label: fields.label,
    station: at.station,
    outcome,
    ...(outcome === "rejected" && fields.cause !== ""
      ? { reason: fields.reason, cause: fields.cause }
      : {}),
    ...(outcome === "released" ? { releases: fields.releases } : {}),
    ...(fields.findings.length > 0 ? { findings: fields.findings.map(findingOf) } : {}),
    ...(note === "" ? {} : { note }),
    ...(whole.length > 0 ? { photos: whole } : {}),
    ...(outcome === "repair" && fields.again_at !== "" ? { again_at: fields.again_at } : {}),
    ...(at.machine === "" ? {} : { machine: at.machine }),
    ...(gauges === null ? {} : { measured: gauges }),
    ...(done && at.lots.length > 0 ? { lots: at.lots } : {}),
    ...(done && at.load !== "" ? { load: at.load } : {}),
    ...(fields.envelope.trim() === "" ? {} : { envelope: fields.envelope.trim() }),
    ...(done && at.more.includes("tag") && fields.tag !== "" ? { tag: tidy(fields.tag) } : {}),
    ...(built === null ? {} : { built }),
  };
}

export const lotsAt = (materials: Material[], kept: { kind: string; number: string }[]): Lot[] =>
  materials.flatMap((kind) => {
    const number = kept.find((one) => one.kind === kind)?.number.trim() ?? "";
    return number === "" ? [] : [{ kind, number }];
  });
