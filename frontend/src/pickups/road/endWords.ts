/** What stays on the truck and why, as it is kept with the delivery. */
import type { Words } from "../words.en";
import { NOTE_MOST } from "../yard/fields";

/** Why a casing was not handed over, in the order offered: kept by key, whoever reads the screen. */
export const REASONS = ["not_on_truck", "not_taken", "wrong_yard"] as const;
type Reason = (typeof REASONS)[number];
const isReason = (why: string): why is Reason => REASONS.some((one) => one === why);

/** Each reason once, with its labels; cut where the wire would take no more, and then it says so. */
export function noteOf(left: [label: string, why: string][], w: Words, setDown = ""): string {
  const by = new Map<string, string[]>();
  for (const [label, told] of left) {
    const why = isReason(told) ? w.road_not_handed_reasons[told] : told || w.road_no_reason;
    by.set(why, [...(by.get(why) ?? []), label]);
  }
  const where = setDown === "" ? "" : `${w.day_set_down_said(setDown)}. `;
  if (by.size === 0) return where.trim();
  const said = [...by].map(([why, labels]) => `${why}: ${labels.join(", ")}`);
  const whole = `${where}${w.road_not_handed(left.length)}. ${said.join(". ")}`;
  return whole.length <= NOTE_MOST ? whole : `${whole.slice(0, NOTE_MOST - 1)}\u2026`;
}
