/** What a tablet at a plant tells, as a device makes it; the shapes are those of the server's plant
 * wire. Lengths in mm, as gauges give them. Pure. */
import type { Side, Zone } from "./taken";

export const CAUSES = ["casing", "plant", "road_or_dock", "customer"] as const;
/** By whose doing a casing is rejected. */
export type Cause = (typeof CAUSES)[number];

export type Outcome =
  | "received"
  | "passed"
  | "repair"
  | "rejected"
  | "hold"
  | "released"
  | "finished"
  | "shipped"
  | "withdrawn";

export interface StationFinding {
  zone: Zone;
  side?: Side;
  kind: string;
  /** Across its longest. */
  size_mm?: number | null;
  count?: number;
  action?: string;
  photos?: string[];
}

export const MATERIALS = ["cushion_gum", "tread", "repair_unit", "repair_gum", "cement"] as const;
export type Material = (typeof MATERIALS)[number];

export interface Lot {
  kind: Material;
  number: string;
}

export interface Measured {
  circumference_mm?: number | null;
  crown_width_mm?: number | null;
  buffed_radius_mm?: number | null;
  texture?: number | null;
  tread_width_mm?: number | null;
  tread_length_mm?: number | null;
}

/** What final inspection reads off the finished tire. */
export interface Built {
  tread_design?: string;
  fleet_brand?: string;
  retread_tin?: string;
  caps?: number | null;
}

/** One event at a station; the operation's id is the event's. */
export interface Tell {
  label: string;
  station: string;
  outcome: Outcome;
  reason?: string;
  cause?: Cause | null;
  /** The hold or rejection that a `released` undoes. */
  releases?: string | null;
  /** The event that was a mistake. */
  withdraws?: string | null;
  findings?: StationFinding[];
  note?: string;
  photos?: string[];
  /** The station to which it goes back to be worked again. */
  again_at?: string | null;
  machine?: string;
  measured?: Measured | null;
  lots?: Lot[];
  load?: string;
  envelope?: string;
  /** The finished tag: the label that names the casing from now on. */
  tag?: string | null;
  built?: Built | null;
}

/** A truck's list was counted by hand, before a single scan. */
export interface CountIn {
  consignment: string;
  way: "in" | "out";
  counted: number;
}

/** A cure load as far as it is known now: its moments are those of the newest word, and what that
 * does not say stays as an older one said it. */
export interface CureLoad {
  load: string;
  number: string;
  chamber?: string;
  started_at: string | null;
  ended_at: string | null;
  lots?: Lot[];
  operator?: string;
  note?: string;
}

export type PlantTelling =
  | { kind: "inspection.tell"; version: 1; payload: Tell }
  | { kind: "dock.count_in"; version: 1; payload: CountIn }
  | { kind: "curing.load"; version: 1; payload: CureLoad };

export const tell = (payload: Tell): PlantTelling => ({
  kind: "inspection.tell",
  version: 1,
  payload,
});

export const countIn = (payload: CountIn): PlantTelling => ({
  kind: "dock.count_in",
  version: 1,
  payload,
});

export const cureLoad = (payload: CureLoad): PlantTelling => ({
  kind: "curing.load",
  version: 1,
  payload,
});
