/** What of a drop-off stands: what the office refused is neither signed for nor on a ticket. Pure. */
import type { Casing, Pickup, VisitLine } from "../../domain/rows";

export interface Standings {
  casings: Casing[];
  lines: VisitLine[];
  /** How many of either do not stand. */
  refused: number;
}

export function standingOf({ casings, lines }: Pick<Pickup, "casings" | "lines">): Standings {
  const stands = ({ standing }: Casing | VisitLine): boolean => standing !== "needs_you";
  const all = { casings: casings.filter(stands), lines: lines.filter(stands) };
  const refused = casings.length + lines.length - all.casings.length - all.lines.length;
  return { ...all, refused };
}
