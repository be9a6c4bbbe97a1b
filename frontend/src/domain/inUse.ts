/**
 * Whether somebody is filling in a sheet just now, so that a new version has to wait. Pure.
 *
 * A sheet that nobody touched for a day is forgotten or left for another day; it lies on the disk
 * and opens in the new version too. A day is our own figure; no published source.
 */
const FORGOTTEN_MS = 24 * 3600 * 1000;

/** Times in milliseconds; a clock that was set back makes no sheet last longer than a day. */
export const inUse = (sheets: { changed_at: number }[], now: number): boolean =>
  sheets.some(({ changed_at }) => Math.abs(now - changed_at) < FORGOTTEN_MS);
