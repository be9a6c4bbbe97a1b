/**
 * A plant's rows as its tablets read them: where each casing stands inside, the route, limits of
 * repair, trucks' lists, cure loads. A field that is missing reads as nothing. Pure.
 */
import { type Body, isBody, list, number, text, texts } from "../domain/body";
import type { Side, Zone } from "../domain/operation";
import type { Built, Lot, Measured, StationFinding } from "../domain/plantTelling";
import type { RowLike, Standing } from "../domain/rows";

export type Stage = "in_work" | "repair" | "on_hold" | "rejected" | "finished" | "shipped";
const STAGES: Stage[] = ["in_work", "repair", "on_hold", "rejected", "finished", "shipped"];

/** Something that was told of a casing, by the id of its event. */
export interface Word {
  event: string;
  at: string;
  station: string;
}

export interface FoundBefore extends Word, Required<StationFinding> {
  /** It was repaired or skived since. */
  done: boolean;
}

export interface Hold extends Word {
  note: string;
  /** A station may release it; else it is decided about on the plant's pages. */
  releasable: boolean;
}

export interface Rejection extends Word {
  reason: string;
  cause: string;
  zone: string;
  note: string;
  /** False: what it is rejected for may never be released. */
  releasable: boolean;
}

export interface Difference {
  /** The event that told it; empty where the row does not say. */
  event: string;
  field: string;
  ordered: string;
  found: string;
}

export interface WorkWanted {
  work: string;
  basis: string;
  tread_design: string;
  fleet_brand: string;
  purchase_order: string;
  unit: string;
  size: string;
  tin: string;
  rating: string;
  owner: string;
  /** A day, or empty. */
  promised: string;
  /** It goes first at each station. */
  rush: boolean;
  note: string;
}

export interface Heard extends Word {
  outcome: string;
}

export interface Work {
  uid: string;
  label: string;
  labels: string[];
  stage: Stage;
  station: string;
  next: string;
  entered_at: string;
  seen_at: string;
  passed: string[];
  not_scanned: string[];
  findings: FoundBefore[];
  holds: Hold[];
  rejections: Rejection[];
  reworks: number;
  again_at: string;
  envelope: string;
  load: string;
  loads: string[];
  machines: { station: string; machine: string }[];
  lots: (Lot & { station: string })[];
  measured: Measured;
  built: Built | null;
  differences: Difference[];
  /** Null: nobody knows whose it is and what is to be done, as far as this tablet has heard. */
  wanted: WorkWanted | null;
  contested: boolean;
  last: Heard[];
  /** How what was told of it on this tablet stands. */
  standing: Standing;
}

export const word = (said: Body): Word => ({
  event: text(said.event),
  at: text(said.at),
  station: text(said.station),
});

const bodies = (value: unknown): Body[] => list(value).filter(isBody);

const found = (said: Body): FoundBefore => ({
  ...word(said),
  zone: (text(said.zone) || "crown") as Zone,
  side: text(said.side) as Side,
  kind: text(said.kind),
  size_mm: number(said.size_mm),
  count: number(said.count) ?? 1,
  action: text(said.action),
  photos: texts(said.photos),
  done: said.done === true,
});

const rejection = (said: Body): Rejection => ({
  ...word(said),
  reason: text(said.reason),
  cause: text(said.cause),
  zone: text(said.zone),
  note: text(said.note),
  releasable: said.releasable === true,
});

const wantedFrom = (said: unknown): WorkWanted | null =>
  isBody(said)
    ? {
        work: text(said.work),
        basis: text(said.basis),
        tread_design: text(said.tread_design),
        fleet_brand: text(said.fleet_brand),
        purchase_order: text(said.purchase_order),
        unit: text(said.unit),
        size: text(said.size),
        tin: text(said.tin),
        rating: text(said.rating),
        owner: text(said.owner),
        promised: isBody(said.promised) ? text(said.promised.on) : text(said.promised),
        rush: said.rush === true,
        note: text(said.note),
      }
    : null;

const builtFrom = (said: unknown): Built | null =>
  isBody(said)
    ? {
        tread_design: text(said.tread_design),
        fleet_brand: text(said.fleet_brand),
        retread_tin: text(said.retread_tin),
        caps: number(said.caps),
      }
    : null;

export const workFrom = (id: string, body: Body): Work => ({
  uid: text(body.uid) || id,
  label: text(body.label),
  labels: [...new Set([text(body.label), ...texts(body.labels)])].filter((one) => one !== ""),
  stage: STAGES.find((one) => one === body.stage) ?? "in_work",
  station: text(body.station),
  next: text(body.next),
  entered_at: text(body.entered_at),
  seen_at: text(body.seen_at),
  passed: texts(body.passed),
  not_scanned: texts(body.not_scanned),
  findings: bodies(body.findings).map(found),
  holds: bodies(body.holds).map((said) => ({
    ...word(said),
    note: text(said.note),
    releasable: said.releasable === true,
  })),
  rejections: bodies(body.rejections).map(rejection),
  reworks: number(body.reworks) ?? 0,
  again_at: text(body.again_at),
  envelope: text(body.envelope),
  load: text(body.load),
  loads: texts(body.loads),
  machines: bodies(body.machines).map((said) => ({
    station: text(said.station),
    machine: text(said.machine),
  })),
  lots: bodies(body.lots).map((said) => ({
    kind: text(said.kind) as Lot["kind"],
    number: text(said.number),
    station: text(said.station),
  })),
  measured: isBody(body.measured) ? (body.measured as Measured) : {},
  built: builtFrom(body.built),
  differences: bodies(body.differences).map((said) => ({
    event: text(said.event),
    field: text(said.field),
    ordered: text(said.ordered),
    found: text(said.found),
  })),
  wanted: wantedFrom(body.wanted),
  contested: body.contested === true,
  last: bodies(body.last).map((said) => ({ ...word(said), outcome: text(said.outcome) })),
  standing: body.contested === true ? "in_question" : "recorded",
});

/** A casing of which this tablet has heard nothing: it is told of by its label alone. */
export const unheard = (label: string): Work => workFrom("", { label });

/** The rows of one entity that are there, each as something. */
export const read = <T>(rows: RowLike[], entity: string, as: (id: string, body: Body) => T): T[] =>
  rows.flatMap((row) => (row.entity === entity && isBody(row.body) ? [as(row.id, row.body)] : []));

/** A station; what is said of it in English, and in Spanish where the plant has said it so. */
export interface Station {
  code: string;
  name: string;
  name_es: string;
  caution: string;
  caution_es: string;
  /** Labels are scanned here. */
  scans: boolean;
  /** Not every casing comes here. */
  optional: boolean;
  /** The machines that do this work side by side, by number; none where there is one. */
  machines: string[];
}

export interface Chamber {
  code: string;
  name: string;
  /** How many casings it holds; null where the plant has not said. */
  holds: number | null;
}

export interface Route {
  stations: Station[];
  chambers: Chamber[];
  rework_limit: number | null;
  /** The three symbols of its retread TINs; empty where the plant has entered none. */
  plant_code: string;
}

const numbered = (many: number): string[] =>
  many > 1 ? Array.from({ length: many }, (_, i) => String(i + 1)) : [];

/** The route of this tablet's plant; null where it has not come. */
export function routeFrom(rows: RowLike[], plant: string): Route | null {
  const body = rows.find((row) => row.entity === "plant_route" && row.id === plant)?.body;
  if (!isBody(body)) return null;
  const stations = bodies(body.stations).map((said) => ({
    code: text(said.code),
    name: text(said.name),
    name_es: text(said.name_es),
    caution: text(said.caution),
    caution_es: text(said.caution_es),
    scans: said.scans !== false,
    optional: said.optional === true,
    machines: numbered(number(said.machines) ?? 1),
    place: number(said.place) ?? 0,
  }));
  return {
    stations: stations.sort((a, b) => a.place - b.place),
    chambers: bodies(body.chambers).map((said) => ({
      code: text(said.code),
      name: text(said.name) || text(said.code),
      holds: number(said.holds),
    })),
    rework_limit: number(body.rework_limit),
    plant_code: text(body.plant_code),
  };
}

export interface OnList {
  label: string;
  size: string;
  owner: string;
  state: string;
}

/** A truck's list, on its way here or to be loaded. */
export interface Consignment {
  uid: string;
  way: "in" | "out";
  from: string;
  to: string;
  run: string;
  driver: string;
  labels: OnList[];
  counted: number | null;
  told_at: string;
}

export const consignments = (rows: RowLike[]): Consignment[] =>
  read(
    rows,
    "consignment",
    (id, body): Consignment => ({
      uid: text(body.uid) || id,
      way: body.way === "out" ? "out" : "in",
      from: text(body.from),
      to: text(body.to),
      run: text(body.run),
      driver: text(body.driver),
      labels: bodies(body.labels).map((said) => ({
        label: text(said.label),
        size: text(said.size),
        owner: text(said.owner),
        state: text(said.state),
      })),
      counted: number(body.counted),
      told_at: text(body.told_at),
    }),
  ).sort((a, b) => a.told_at.localeCompare(b.told_at) || a.uid.localeCompare(b.uid));

export interface Load {
  uid: string;
  /** The ids under which this tablet has told of it. */
  also: string[];
  number: string;
  chamber: string;
  state: string;
  started_at: string;
  ended_at: string;
  set_in: { label: string; envelope: string }[];
  set_out: string[];
  missing: string[];
  lots: Lot[];
  short_why: string;
}

export const loadFrom = (id: string, body: Body): Load => ({
  uid: text(body.uid) || id,
  also: [],
  number: text(body.number),
  chamber: text(body.chamber),
  state: text(body.state) || "setting",
  started_at: text(body.started_at),
  ended_at: text(body.ended_at),
  set_in: bodies(body.set_in).map((said) => ({
    label: text(said.label),
    envelope: text(said.envelope),
  })),
  set_out: texts(body.set_out),
  missing: texts(body.missing),
  lots: bodies(body.lots).map((said) => ({
    kind: text(said.kind) as Lot["kind"],
    number: text(said.number),
  })),
  short_why: text(body.short_why),
});
