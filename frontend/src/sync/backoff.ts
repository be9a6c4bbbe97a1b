/** How long to wait before the next try: longer each time, spread by chance, as the server asks. */

export const FIRST_MS = 2_000;
export const LONGEST_MS = 5 * 60_000;
/** Where all is well, how often to look for news. */
export const QUIET_MS = 60_000;

/** As long as nobody can say who holds this phone: names come a moment after it was enrolled. */
export const NAMELESS_MS = 3_000;

/** After the n-th failure in a row (from 1): between half and whole of a doubling span. */
export function waitMs(failures: number, chance: number, retryAfterS: number | null): number {
  const span = Math.min(LONGEST_MS, FIRST_MS * 2 ** Math.min(failures - 1, 20));
  const own = span / 2 + (span / 2) * chance;
  // What the server asks for is a least; spread it too, or all phones come back at once.
  const asked = retryAfterS === null ? 0 : retryAfterS * 1000 * (1 + 0.2 * chance);
  return Math.max(own, asked);
}

export const quietMs = (chance: number, named: boolean): number =>
  (named ? QUIET_MS : NAMELESS_MS) * (0.75 + 0.5 * chance);
