/**
 * What can be seen of a casing at pickup: zones, sides, kinds, and what has to be said. Pure.
 *
 * Six kinds stop a casing at once. The cautions stand where the hand would be; they advise, and
 * certify nothing. The twin of pickups/casings/condition.py, same names, where the sources stand;
 * fixtures/vectors/condition.json holds both to the same answers. Words belong to the screens.
 */
import type { Condition, Side, Zone } from "./operation";

/** Where on a casing, from the road to the air. */
export const ZONES: Zone[] = ["crown", "shoulder", "sidewall", "bead", "inner_liner"];

/** Every kind, in the order of the wire. */
export const CONDITIONS: Condition[] = [
  "nail_hole",
  "cut",
  "crack",
  "bulge",
  "abrasion",
  "chunking",
  "stone_drilling",
  "bead_damage",
  "liner_damage",
  "old_nail_repair",
  "old_spot_repair",
  "old_section_repair",
  "old_bead_repair",
  "dot_removed",
  "other",
  "bead_wire",
  "cord",
  "separation",
  "run_flat",
  "oil",
  "heat",
];

/** Each stops a casing where it lies. */
export const STOPS: Condition[] = CONDITIONS.slice(-6);

/** Done before it came to us; a customer may not accept some. */
export const OLD_REPAIRS: Condition[] = [
  "old_nail_repair",
  "old_spot_repair",
  "old_section_repair",
  "old_bead_repair",
];

const WALL_REPAIRS = OLD_REPAIRS.slice(0, 3);
const WALL_STOPS = STOPS.slice(1);

const some = (...kinds: Condition[]): Condition[] => kinds;

/** What can be in a zone, in the order of a list to choose from; the stops stand last. */
export const KINDS_BY_ZONE: Record<Zone, Condition[]> = {
  crown: [
    ...some("nail_hole", "cut", "crack", "bulge", "chunking", "stone_drilling"),
    ...WALL_REPAIRS,
    ...some("other", "cord", "separation", "oil", "heat"),
  ],
  shoulder: [
    ...some("nail_hole", "cut", "crack", "bulge", "abrasion", "chunking"),
    ...WALL_REPAIRS,
    "other",
    ...WALL_STOPS,
  ],
  sidewall: [
    ...some("nail_hole", "cut", "crack", "bulge", "abrasion"),
    ...some("old_spot_repair", "old_section_repair", "dot_removed", "other"),
    ...WALL_STOPS,
  ],
  bead: [
    ...some("bead_damage", "cut", "crack", "abrasion", "old_bead_repair", "other"),
    ...some("bead_wire", "separation", "oil", "heat"),
  ],
  // A nail hole is told from outside, once.
  inner_liner: ["liner_damage", "crack", "bulge", ...WALL_REPAIRS, "other", ...WALL_STOPS],
};

/** What has to be said where somebody may lay a hand on it; screens have words for each. */
export type ConditionCaution =
  | "never_add_air"
  | "do_not_run"
  | "bulge_may_be_cords"
  | "wire_ends"
  | "hot_or_oily";

/** The gravest first. */
export const CAUTIONS: ConditionCaution[] = [
  "never_add_air",
  "do_not_run",
  "bulge_may_be_cords",
  "wire_ends",
  "hot_or_oily",
];

const SAID: Partial<Record<Condition, ConditionCaution[]>> = {
  run_flat: ["never_add_air", "do_not_run"],
  bulge: ["never_add_air", "bulge_may_be_cords"],
  cord: ["do_not_run", "wire_ends"],
  separation: ["do_not_run"],
  bead_wire: ["wire_ends"],
  oil: ["hot_or_oily"],
  heat: ["hot_or_oily"],
};

/** Whether it stops a casing at once. */
export const isStop = (kind: Condition): boolean => STOPS.includes(kind);

/** The sides to choose from; the crown runs round the middle and has none. */
export const sidesOf = (zone: Zone): Exclude<Side, "">[] =>
  zone === "crown" ? [] : ["serial", "other"];

/** What has to be said about these findings, each once, the gravest first. */
export function cautionsOf(findings: { zone: Zone; kind: Condition }[]): ConditionCaution[] {
  const told = new Set(findings.flatMap(({ kind }) => SAID[kind] ?? []));
  // Broken cords in a sidewall may tear open like a zipper.
  if (findings.some(({ zone, kind }) => zone === "sidewall" && kind === "cord")) {
    told.add("never_add_air");
  }
  return CAUTIONS.filter((caution) => told.has(caution));
}
