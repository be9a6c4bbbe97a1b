/** What waits: trailers that stand closed, casings that came by label and size. Pure. */
import type { Casing, Pickup } from "../../../domain/rows";
import { hasTire } from "../../seen/seen";

/** It was taken closed and nobody has told its list. */
export const isShut = ({ trailer, finished_at, emptied_at }: Pickup): boolean =>
  trailer !== null && finished_at !== null && emptied_at === null;

/** The pickup took a trailer: its sheet is that of a pile, also at a counter. */
export const isTrailers = (pickups: readonly Pickup[], id: string): boolean =>
  pickups.some((pickup) => pickup.id === id && pickup.trailer !== null);

/** Those that wait, the longest first. */
export const toEmpty = (pickups: readonly Pickup[]): Pickup[] =>
  pickups.filter(isShut).sort((a, b) => ((a.finished_at ?? "") < (b.finished_at ?? "") ? -1 : 1));

/** Whole days that something has waited. */
export const daysSince = (at: string, nowMs: number): number =>
  Math.max(0, Math.floor((nowMs - Date.parse(at)) / (24 * 3600 * 1000)));

/** It was taken by label and size: nobody has read its date code, its tread, its condition. */
export const isUnread = (casing: Casing): boolean =>
  hasTire(casing.line) &&
  casing.check === null &&
  casing.tins.length === 0 &&
  casing.treads_32nds.flat().every((depth) => depth === null) &&
  casing.pickup !== "" &&
  casing.standing !== "needs_you";

/** Those that lie where somebody can look at them: with whoever holds the device, or on its rack. */
export const toLookAt = (casings: Iterable<Casing>, person: string, site: string): Casing[] =>
  [...casings]
    .filter(
      (casing) =>
        isUnread(casing) &&
        casing.progress === "picked_up" &&
        (casing.holder === `person:${person}` || casing.holder === `site:${site}`),
    )
    .sort((a, b) => (a.picked_up_at < b.picked_up_at ? -1 : 1));
