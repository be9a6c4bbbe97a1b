/**
 * How much room the device has left, and how small a photo is made for it. Pure.
 *
 * Which sizes and qualities a photo is tried at, and what counts as short, are our own figures:
 * common practice, no published source. At 400 px a casing's damage is still told from a shadow.
 */

/** Bytes that are used here, and that the browser gives us in all. */
export interface Room {
  used: number;
  whole: number;
}

const MB = 1024 * 1024;
export const SHORT_BYTES = 50 * MB;
const VERY_SHORT_BYTES = 5 * MB;
/** Of the whole. */
export const SHORT_PART = 0.05;
const VERY_SHORT_PART = 0.005;

export const free = ({ used, whole }: Room): number => Math.max(0, whole - used);

const below = (room: Room, bytes: number, part: number): boolean =>
  room.whole > 0 && (free(room) < bytes || free(room) < room.whole * part);

export const isShort = (room: Room): boolean => below(room, SHORT_BYTES, SHORT_PART);
export const isVeryShort = (room: Room): boolean => below(room, VERY_SHORT_BYTES, VERY_SHORT_PART);

/** The longest side in pixels, and the quality of a JPEG from 0 to 1. */
export interface Rung {
  side: number;
  quality: number;
}

/** From what is made where there is room, to what is better than no photo. */
export const RUNGS: readonly Rung[] = [
  { side: 1600, quality: 0.85 },
  { side: 1600, quality: 0.7 },
  { side: 1600, quality: 0.5 },
  { side: 1200, quality: 0.6 },
  { side: 1000, quality: 0.5 },
  { side: 800, quality: 0.45 },
  { side: 640, quality: 0.4 },
  { side: 400, quality: 0.3 },
];
export const SMALLEST = RUNGS.length - 1;
const WHERE_SHORT = 4;
const WHERE_VERY_SHORT = 6;

/** The first rung to try, an index of RUNGS. A browser that says no room is taken at its best. */
export function firstRung(room: Room | null): number {
  if (room === null) return 0;
  if (isVeryShort(room)) return WHERE_VERY_SHORT;
  return isShort(room) ? WHERE_SHORT : 0;
}
