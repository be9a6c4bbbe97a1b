/**
 * Tread depths of a casing: the lowest for the law, the mean for wear, and what is left. Pure.
 *
 * A reading is a whole number of 32nds of an inch in one major groove at one place round the tire,
 * grooves told from the same side. The federal limits are the least that the law lets run, no
 * advice to run down to them, and each carries that caution. What uneven wear may point to is a
 * hint to look, no finding. The twin of pickups/casings/tread.py, same names, where the sources
 * stand; fixtures/vectors/tread.json holds both to the same answers.
 */

/** No tread of a truck tire is deeper; a greater reading is a slip of the hand. */
export const MOST_32NDS = 40;
/** From which difference a hint is given: the house's own figure, no published rule. */
export const UNEVEN_FROM_32NDS = 2;

/** Readings by place and groove; null where a groove was not read. */
export type Places = (number | null)[][];

/** Where the tire ran; steer: the front wheels of a truck or truck tractor. */
export type Position = "steer" | "drive" | "trailer" | "bus_front";

/** What has to be said with a figure; screens have words for it. */
export type Caution = "legal_minimum_not_advice";

/** What a difference may point to; somebody has to look before it is said to be so. */
export type Cause =
  | "may_be_low_inflation_or_overload"
  | "may_be_high_inflation"
  | "may_be_alignment"
  | "may_be_balance_or_flat_spot"
  | "uneven_cause_open";

/** A legal minimum. wheels, where: keys of what the section names. */
export type Limit = {
  section: string;
  wheels: "front_of_bus_truck_tractor" | "all_other";
  least_32nds: number;
  where: "any_point_major_groove" | "major_groove";
  caution: Caution;
};

export const STEER_LIMIT: Limit = {
  section: "49 CFR 393.75(b)",
  wheels: "front_of_bus_truck_tractor",
  least_32nds: 4,
  where: "any_point_major_groove",
  caution: "legal_minimum_not_advice",
};
export const OTHER_LIMIT: Limit = {
  section: "49 CFR 393.75(c)",
  wheels: "all_other",
  least_32nds: 2,
  where: "major_groove",
  caution: "legal_minimum_not_advice",
};

/** What may not run on some wheels, however deep its tread is. */
export type Ban = {
  section: string;
  wheels: "front_of_bus" | "front_of_truck_tractor" | "front" | "all";
  tires: string[];
};

export const BUS_FRONT_BAN: Ban = {
  section: "49 CFR 393.75(d)",
  wheels: "front_of_bus",
  tires: ["regrooved", "recapped", "retreaded"],
};

export const TRUCK_FRONT_BAN: Ban = {
  section: "49 CFR 393.75(e)",
  wheels: "front_of_truck_tractor",
  tires: ["regrooved_from_2232_kg"],
};
export const REPAIR_BAN: Ban = {
  section: "49 CFR 570.62(d)",
  wheels: "front",
  tires: ["reinforcement_repaired"],
};
/** A tire marked for 55 mph or less, where the vehicle runs faster than the mark allows. */
export const SPEED_BAN: Ban = {
  section: "49 CFR 393.75(f)",
  wheels: "all",
  tires: ["faster_than_marked"],
};

/** What the readings come to, all in 32nds. */
export type Measurement = {
  /** How many counted. */
  readings: number;
  lowest: number | null;
  mean: number | null;
  /** The greatest difference within a place. */
  across: number;
  /** The greatest difference within a groove, round the tire. */
  between: number;
  /** The limits that the lowest reading does not reach. */
  below: Limit[];
  /** By how much the lowest is under the pull depth. */
  under_pull: number | null;
  /** The mean above the pull depth: tread paid for and not run. */
  left: number | null;
  causes: Cause[];
  /** Not counted. */
  impossible: number[];
};

/** The minimum that holds at a position; both where the position is not known. */
export function limits(position: Position | null): Limit[] {
  if (position === null) return [STEER_LIMIT, OTHER_LIMIT];
  return [position === "steer" || position === "bus_front" ? STEER_LIMIT : OTHER_LIMIT];
}

/** What may not run there; of a position that is not known, what may run nowhere. */
export function bans(position: Position | null): Ban[] {
  if (position === "bus_front") return [BUS_FRONT_BAN, REPAIR_BAN, SPEED_BAN];
  return position === "steer" ? [TRUCK_FRONT_BAN, REPAIR_BAN, SPEED_BAN] : [SPEED_BAN];
}

/** What readings come to. The pull depth is the customer's or the yard's, never the law's. */
export function measure(
  places: Places,
  position: Position | null = null,
  pullDepth32nds: number | null = null,
  unevenFrom32nds = UNEVEN_FROM_32NDS,
): Measurement {
  const read = places.map((place) => place.map((d) => (d !== null && isPossible(d) ? d : null)));
  const most = Math.max(0, ...read.map((place) => place.length));
  const grooves = Array.from({ length: most }, (_, at) =>
    read.filter((place) => at < place.length).map((place) => place[at]!),
  );
  const depths = read.flat().filter((d) => d !== null);
  const across = widest(read);
  const between = widest(grooves);
  const lowest = depths.length === 0 ? null : Math.min(...depths);
  const mean = depths.length === 0 ? null : sum(depths) / depths.length;
  const pull = pullDepth32nds;
  return {
    readings: depths.length,
    lowest,
    mean,
    across,
    between,
    below: limits(position).filter((limit) => lowest !== null && lowest < limit.least_32nds),
    under_pull: pull === null || lowest === null ? null : Math.max(0, pull - lowest),
    left: pull === null || mean === null ? null : Math.max(0, mean - pull),
    causes: causesOf(grooves, across, between, unevenFrom32nds),
    impossible: places.flat().filter((d) => d !== null && !isPossible(d)) as number[],
  };
}

/** Millimetres as they are shown, to one decimal, halves up: 1/32 inch is 0.79375 mm. */
export const toMm = (depth32nds: number): number => Math.floor((254 * depth32nds + 16) / 32) / 10;

/** Whole 32nds under a gauge in millimetres of one or two decimals, rounded down. */
export function fromMm(mm: number, decimals = 1): number {
  const steps = 10 ** decimals;
  const shown = Math.floor(mm * steps + 0.5);
  return Math.floor(((2 * shown + 1) * 80) / (127 * steps));
}

const isPossible = (depth: number): boolean => depth >= 0 && depth <= MOST_32NDS;
const sum = (depths: number[]): number => depths.reduce((total, d) => total + d, 0);

function widest(rows: (number | null)[][]): number {
  const told = rows.map((row) => row.filter((d) => d !== null)).filter((row) => row.length > 0);
  return Math.max(0, ...told.map((row) => Math.max(...row) - Math.min(...row)));
}

/** Hints from the mean of each groove over the places, and from the spread within a groove. */
function causesOf(
  grooves: (number | null)[][],
  across: number,
  between: number,
  by: number,
): Cause[] {
  const told = grooves.map((row) => row.filter((d) => d !== null)).filter((row) => row.length > 0);
  const causes: Cause[] = [];
  if (told.length >= 2) {
    const left = told[0]!;
    const right = told.at(-1)!;
    const inner = told.slice(1, -1).flat();
    const hasInner = inner.length > 0;
    if (hasInner && isDeeper(inner, left, by) && isDeeper(inner, right, by)) {
      causes.push("may_be_low_inflation_or_overload");
    }
    if (hasInner && isDeeper(left, inner, by) && isDeeper(right, inner, by)) {
      causes.push("may_be_high_inflation");
    }
    if (isDeeper(left, right, by) || isDeeper(right, left, by)) causes.push("may_be_alignment");
  }
  if (between >= by) causes.push("may_be_balance_or_flat_spot");
  if (across >= by && causes.length === 0) causes.push("uneven_cause_open");
  return causes;
}

/** Whether the mean of some is greater by so much; in whole numbers, so nothing is rounded. */
const isDeeper = (some: number[], others: number[], by: number): boolean =>
  sum(some) * others.length - sum(others) * some.length >= by * some.length * others.length;
