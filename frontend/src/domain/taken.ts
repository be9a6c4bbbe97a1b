/**
 * What an operation tells of the things at a yard or counter: a casing that is taken, scrap that is
 * counted, a casing that stays. Shapes only, those of the server's custody wire; it knows of no
 * other operation.
 */

/** The fact that a correction names, and the label that it was told under. */
export interface Original {
  fact: string;
  label: string;
}

export type Work = "retread" | "repair";
/** What comes back: this very casing, any of this customer's, one from the dealer's stock in
 * exchange, one that the dealer sells with its tread; or it is the dealer's own. */
export type Basis = "own" | "pool" | "exchange" | "bought" | "dealer";
export type BackTo = "yard" | "store";

/** Where casings waited at the plant when a forecast was made. */
export interface Ahead {
  name: string;
  name_es: string;
  count: number;
}

/**
 * The day promised, and what the phone's table said then. Days are written as 2026-04-21. Of a
 * forecast's day: how sure it is, in percent, when the forecast was made, and what waited then.
 */
export interface Promised {
  on: string;
  basis: "forecast" | "standard_time" | "by_hand";
  offered: string | null;
  table: number | null;
  confidence: number | null;
  forecast_at: string | null;
  ahead: Ahead[];
}

/** What kind of thing is taken. */
export type Line = "retread" | "repair" | "sell" | "adjustment" | "wheel_tire" | "wheel";
export type Position = "" | "steer" | "drive" | "trailer" | "bus_front";
export type PulledFor =
  | ""
  | "worn"
  | "irregular_wear"
  | "puncture"
  | "damage"
  | "vibration"
  | "age"
  | "program"
  | "other";

/** A TIN as read; made at its birth or by a retread, "" where nobody looked for the R. */
export interface Tin {
  tin: string;
  made: "" | "new" | "retread";
}

export type Zone = "crown" | "shoulder" | "sidewall" | "bead" | "inner_liner";
/** The side with the full TIN, or the other one. */
export type Side = "" | "serial" | "other";
export type Condition =
  | "nail_hole"
  | "cut"
  | "crack"
  | "bulge"
  | "abrasion"
  | "chunking"
  | "stone_drilling"
  | "bead_damage"
  | "liner_damage"
  | "old_nail_repair"
  | "old_spot_repair"
  | "old_section_repair"
  | "old_bead_repair"
  | "dot_removed"
  | "other"
  | "bead_wire"
  | "cord"
  | "separation"
  | "run_flat"
  | "oil"
  | "heat";

/** One thing seen on a casing; its photos stand among the casing's own too. */
export interface Finding {
  zone: Zone;
  kind: Condition;
  side: Side;
  mm: number | null;
  count: number;
  photos: string[];
}

export type Verdict = "take" | "plant" | "leave";

/** The spec check as it was shown; why a person did otherwise. */
export interface Check {
  verdict: Verdict;
  specification: string | null;
  number: number | null;
  because: string[];
  overruled: string;
}

export interface Sale {
  grade: string;
  cents: number | null;
  pays: "price" | "credit";
}

export interface PickUp {
  pickup: string;
  yard: string;
  label: string;
  line?: Line;
  /** The store's counter that took it in; none in a yard. */
  store?: string | null;
  tins?: Tin[];
  size?: string;
  /** Load range and service description, as on the sidewall. */
  rating?: string;
  brand?: string;
  /** By place round the tire and groove across it; null where a groove was not read. */
  treads_32nds?: (number | null)[][];
  position?: Position;
  wheel?: string;
  unit?: string;
  odometer?: number | null;
  odometer_in?: "mi" | "km";
  pulled_for?: PulledFor;
  findings?: Finding[];
  check?: Check | null;
  work?: Work;
  basis?: Basis;
  tread_design?: string;
  fleet_brand?: string;
  purchase_order?: string;
  back_to?: BackTo;
  promised?: Promised | null;
  /** The label of the other casing of a pair of matched duals. */
  dual_with?: string | null;
  sale?: Sale | null;
  complaint?: string;
  rim?: "" | "steel" | "aluminum";
  valve_out?: boolean;
  note?: string;
  photos?: string[];
  corrects?: Original | null;
}

/** Scrap is counted, never labelled; a correction with a count of 0 takes it back. */
export interface CountScrap {
  pickup: string;
  yard: string;
  count: number;
  store?: string | null;
  fee_cents?: number | null;
  manifest?: string;
  note?: string;
  photos?: string[];
  corrects?: string | null;
}

/** A casing that was looked at and not taken. */
export interface LeaveHere {
  pickup: string;
  yard: string;
  store?: string | null;
  tins?: Tin[];
  size?: string;
  brand?: string;
  findings?: Finding[];
  check?: Check | null;
  note?: string;
  photos?: string[];
  corrects?: string | null;
  taken?: boolean;
}
