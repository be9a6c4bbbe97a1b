/**
 * Reasons of rejection as a hand at a station looks for them: those that fit what was found come
 * first. What may never be released is the plant's rule on the server, too; here it takes the key
 * away. Pure.
 */
import type { StationFinding } from "../domain/plantTelling";
import said from "../pickups/said.json";

/** Every code of the catalogue, in its order. */
export const REASONS: string[] = Object.keys(said.reasons);

/** No key releases a casing that was rejected for one of these; the server's list is the same. */
export const NEVER_RELEASED: ReadonlySet<string> = new Set([
  "WIRE_OR_CORD_EXPOSED_IN",
  "CORD_EXPOSED_PROCESS",
  "CORD_EXPOSED_WEAR",
  "SEPARATION",
  "BELT_SEPARATION",
  "SW_SEPARATION",
  "IMPACT_SEPARATION",
  "ZIPPER",
  "SW_CORD_BULGE",
  "BEAD_TEAR",
  "BEAD_KINKED",
  "BEAD_CORE",
  "DOT_REMOVED",
  "RUN_FLAT",
  "CARCASS_BREAKUP",
  "BELT_REMOVED",
]);

/** By kind, and by zone and kind where the zone makes it another thing. Our own choice. */
const LIKELY: Record<string, string[]> = {
  "sidewall cut": ["SW_CUT"],
  "sidewall crack": ["WEATHER_CHECK", "ZIPPER"],
  "sidewall bulge": ["SW_CORD_BULGE", "SW_SEPARATION"],
  "sidewall separation": ["SW_SEPARATION", "SEPARATION"],
  "sidewall cord": ["WIRE_OR_CORD_EXPOSED_IN", "ZIPPER"],
  "sidewall abrasion": ["SW_CHAIN", "SW_CUT", "CORD_EXPOSED_WEAR"],
  "inner_liner nail_hole": ["LINER_HOLE"],
  "bead crack": ["BEAD_BURNED", "BEAD_TEAR"],
  "bead cut": ["BEAD_TEAR"],
  "bead abrasion": ["BEAD_CURB"],
  nail_hole: ["MULTI_PENETRATION", "UNECONOMIC_REPAIR"],
  cut: ["RUBBER_CRACK_TO_CARCASS", "UNECONOMIC_REPAIR"],
  crack: ["RUBBER_CRACK_TO_CARCASS", "WEATHER_CHECK"],
  bulge: ["SEPARATION", "IMPACT_SEPARATION"],
  abrasion: ["CORD_EXPOSED_WEAR"],
  chunking: ["UNECONOMIC_REPAIR", "BELT_REMOVED"],
  stone_drilling: ["STONE_DRILLING"],
  bead_damage: ["BEAD_TEAR", "BEAD_KINKED", "BEAD_BURNED", "BEAD_CURB", "BEAD_CORE"],
  liner_damage: ["LINER_HOLE", "LINER_DETERIORATED"],
  old_nail_repair: ["OLD_REPAIR_OUT_OF_LIMITS"],
  old_spot_repair: ["OLD_REPAIR_OUT_OF_LIMITS"],
  old_section_repair: ["OLD_REPAIR_OUT_OF_LIMITS"],
  old_bead_repair: ["OLD_REPAIR_OUT_OF_LIMITS"],
  dot_removed: ["DOT_REMOVED"],
  bead_wire: ["WIRE_OR_CORD_EXPOSED_IN", "BEAD_TEAR", "BEAD_CORE"],
  cord: ["WIRE_OR_CORD_EXPOSED_IN", "CORD_EXPOSED_WEAR"],
  separation: ["SEPARATION", "BELT_SEPARATION", "IMPACT_SEPARATION"],
  run_flat: ["RUN_FLAT"],
  oil: ["PETROLEUM", "OIL_CHEMICAL"],
  heat: ["BEAD_BURNED", "CARCASS_BREAKUP"],
};

/** Behind these a cord that shows was laid bare by the work, and a blister came out of the cure. */
const WORKED = new Set(["buffing", "skiving", "repair", "cementing", "cushion-gum", "building"]);
const CURED = new Set(["curing", "stripping", "final-ndt", "final-inspection", "paint"]);

/** The reasons that fit what was found here, the likeliest first; each is one of the catalogue. */
export function likely(findings: StationFinding[], station: string): string[] {
  const of = findings.flatMap(({ zone, kind }) => [
    ...(WORKED.has(station) && kind === "cord" ? ["CORD_EXPOSED_PROCESS"] : []),
    ...(LIKELY[`${zone} ${kind}`] ?? []),
    ...(LIKELY[kind] ?? []),
  ]);
  const all = CURED.has(station) ? ["CURED_DEFECT", ...of] : of;
  return [...new Set(all)].filter((code) => REASONS.includes(code));
}
