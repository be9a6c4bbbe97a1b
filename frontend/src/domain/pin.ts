/**
 * What makes a PIN, and what wrong ones cost. Pure: no key, no clock.
 *
 * Six digits are 10^6 less the plain ones; ten tries in a row are all that anybody gets. The counts
 * and pauses are our own choice; no published source.
 */
export const DIGITS = 6;
/** So many wrong ones in a row, and what the server told this device is gone from it. */
export const MOST_WRONG = 10;
/** How many are left is said from the one after this on. */
const SAID_FROM = 7;
/** Wrong ones that cost no waiting: a thumb slips. */
const FREE = 2;
const LONGEST_PAUSE_S = 60;

export type PinFault = "equal" | "running";

/** Why nobody may have these six digits, or null. */
export function pinFault(pin: string): PinFault | null {
  const steps = [...pin].slice(1).map((digit, i) => (Number(digit) - Number(pin[i]) + 10) % 10);
  if (steps.every((step) => step === 0)) return "equal";
  // Up or down by one, over 9 and 0 too.
  return steps.every((step) => step === 1) || steps.every((step) => step === 9) ? "running" : null;
}

/** How long to wait after so many wrong ones in a row, in milliseconds. */
export const pauseMs = (wrong: number): number =>
  wrong <= FREE ? 0 : 1000 * Math.min(LONGEST_PAUSE_S, 2 ** (wrong - FREE));

/** How many tries are left, as soon as that is worth saying; else null. */
export const triesLeft = (wrong: number): number | null =>
  wrong < SAID_FROM ? null : Math.max(0, MOST_WRONG - wrong);
