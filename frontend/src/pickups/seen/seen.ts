/** What is seen of a casing, as it is being filled in, and as it is told. Yard and counter share it. */
import type {
  Check,
  Finding,
  Line,
  PickUp,
  Position,
  PulledFor,
  Sale,
  Tin,
  Verdict,
} from "../../domain/operation";
import type { Casing } from "../../domain/rows";

export interface SeenFields {
  line: Line;
  /** The first is the one that is typed first; empty ones are not told. */
  tins: Tin[];
  size: string;
  rating: string;
  brand: string;
  /** By place round the tire and groove across it; the last place is the one being measured. */
  treads: (number | null)[][];
  position: Position;
  wheel: string;
  /** As typed; digits. */
  odometer: string;
  odometer_in: "mi" | "km";
  pulled_for: PulledFor;
  findings: Finding[];
  /** Why a person does otherwise than the spec check says. */
  overruled: string;
  sale_grade: string;
  /** As typed, in whole units and hundredths of the dealer's currency; "" is after inspection. */
  sale_price: string;
  sale_pays: Sale["pays"];
  complaint: string;
  rim: "" | "steel" | "aluminum";
  valve_out: boolean;
}

/** Fills in; a function is given what was filled in last, which the screen may not show yet. */
export type FillSeen = (
  some: Partial<SeenFields> | ((latest: SeenFields) => Partial<SeenFields>),
) => void;

export const BLANK_SEEN: SeenFields = {
  line: "retread",
  tins: [],
  size: "",
  rating: "",
  brand: "",
  treads: [],
  position: "",
  wheel: "",
  odometer: "",
  odometer_in: "mi",
  pulled_for: "",
  findings: [],
  overruled: "",
  sale_grade: "",
  sale_price: "",
  sale_pays: "price",
  complaint: "",
  rim: "",
  valve_out: false,
};

export const LINES: Line[] = ["retread", "repair", "sell", "adjustment", "wheel_tire", "wheel"];
export const POSITIONS: Position[] = ["", "steer", "drive", "trailer", "bus_front"];
export const PULLED: PulledFor[] = [
  "",
  "worn",
  "irregular_wear",
  "puncture",
  "damage",
  "vibration",
  "age",
  "program",
  "other",
];

/** What was told of a casing, to be filled in again. */
export const seenOf = (casing: Casing): SeenFields => ({
  line: LINES.find((line) => line === casing.line) ?? "retread",
  tins: casing.tins,
  size: casing.size,
  rating: casing.rating,
  brand: casing.brand,
  treads: casing.treads_32nds,
  position: POSITIONS.find((position) => position === casing.position) ?? "",
  wheel: casing.wheel,
  odometer: casing.odometer === null ? "" : String(casing.odometer),
  odometer_in: casing.odometer_in === "km" ? "km" : "mi",
  pulled_for: PULLED.find((why) => why === casing.pulled_for) ?? "",
  findings: casing.findings,
  overruled: casing.check?.overruled ?? "",
  sale_grade: casing.sale?.grade ?? "",
  sale_price: casing.sale?.cents == null ? "" : (casing.sale.cents / 100).toFixed(2),
  sale_pays: casing.sale?.pays ?? "price",
  complaint: casing.complaint,
  rim: casing.rim === "steel" || casing.rim === "aluminum" ? casing.rim : "",
  valve_out: casing.valve_out,
});

/** The spec check as it stands on the screen: what is told of it with the casing. */
export interface Checked {
  verdict: Verdict;
  specification: string | null;
  number: number | null;
  because: string[];
}

export type Seen = Required<
  Pick<
    PickUp,
    | "line"
    | "tins"
    | "size"
    | "rating"
    | "brand"
    | "treads_32nds"
    | "position"
    | "wheel"
    | "odometer"
    | "odometer_in"
    | "pulled_for"
    | "findings"
    | "check"
    | "sale"
    | "complaint"
    | "rim"
    | "valve_out"
  >
>;

/** A loose wheel has no tire that could be read, measured or looked at. */
export const hasTire = (line: string): boolean => line !== "wheel";

const OF_A_TIRE = { tins: [], size: "", rating: "", brand: "", treads: [], findings: [] };

/** What is told of what was seen; a line tells only what belongs to it. */
export function seenPayload(filled: SeenFields, checkedAs: Checked | null): Seen {
  const { line } = filled;
  const fields = hasTire(line) ? filled : { ...filled, ...OF_A_TIRE };
  const checked = hasTire(line) ? checkedAs : null;
  const tins = fields.tins.map(({ tin, made }) => ({ tin: tin.trim(), made }));
  const treads = fields.treads.filter((place) => place.some((depth) => depth !== null));
  const digits = fields.odometer.replace(/\D/g, "");
  return {
    line,
    tins: tins.filter(({ tin }) => tin !== ""),
    size: fields.size.trim(),
    rating: fields.rating.trim(),
    brand: fields.brand.trim(),
    treads_32nds: treads,
    position: fields.position,
    wheel: fields.wheel.trim(),
    odometer: digits === "" ? null : Number(digits.slice(0, 7)),
    odometer_in: fields.odometer_in,
    pulled_for: fields.pulled_for,
    findings: fields.findings,
    check: checkOf(fields, checked),
    sale: line === "sell" ? saleOf(fields) : null,
    complaint: line === "adjustment" ? fields.complaint.trim() : "",
    rim: line.startsWith("wheel") ? fields.rim : "",
    valve_out: line === "wheel_tire" && fields.valve_out,
  };
}

const checkOf = (fields: SeenFields, checked: Checked | null): Check | null =>
  checked === null
    ? null
    : { ...checked, overruled: checked.verdict === "leave" ? fields.overruled.trim() : "" };

/** To retread or to repair is said by the work that is wanted; the other lines say it themselves. */
export const lineFor = (line: Line, work: string): Line =>
  line === "retread" || line === "repair" ? (work === "repair" ? "repair" : "retread") : line;

/** The kind of thing that the one before was; the first is one to retread. */
export const carriedLine = (before: Pick<Casing, "line"> | undefined): Line =>
  LINES.find((line) => line === before?.line) ?? "retread";

/** Work is wanted and a day promised; what is offered, claimed or loose is decided first. */
export const asksWork = (line: string): boolean =>
  line === "retread" || line === "repair" || line === "wheel_tire";

/** A price as typed in hundredths; null where none is told or it is no price. */
export function centsIn(typed: string): number | null {
  const found = /^\s*(\d{1,5})(?:[.,](\d{1,2}))?\s*$/.exec(typed);
  return found === null ? null : Number(found[1]) * 100 + Number((found[2] ?? "").padEnd(2, "0"));
}

const saleOf = (fields: SeenFields): Sale => ({
  grade: fields.sale_grade.trim(),
  cents: centsIn(fields.sale_price),
  pays: fields.sale_pays,
});
