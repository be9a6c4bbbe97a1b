/**
 * Which day it is: the dealer's, in whatever zone a phone stands, since runs, windows and promises
 * are told in it. The zone comes with the sites; until it has come, and on a phone that does not
 * know it, the phone's own stands in for it. Knows no screen.
 */

/** How this zone writes a moment; null while the phone's own is the one that counts. */
let dealers: Intl.DateTimeFormat | null = null;
/** As it was given: a browser may know it by another name. */
let given = "";

/** From here on days are reckoned in this zone (IANA, America/Chicago); "": in the phone's own. */
export function reckonIn(zone: string): void {
  if (zone === given) return;
  given = zone;
  try {
    dealers = zone === "" ? null : new Intl.DateTimeFormat("en-US", { ...WRITTEN, timeZone: zone });
  } catch (no) {
    if (!(no instanceof RangeError)) throw no;
    dealers = null;
  }
}

const WRITTEN = {
  calendar: "gregory",
  numberingSystem: "latn",
  hourCycle: "h23",
  year: "numeric",
  month: "2-digit",
  day: "2-digit",
  hour: "2-digit",
  minute: "2-digit",
  second: "2-digit",
} as const;

/** What a formatter needs to write moments in the same zone. */
export const inZone = (): { timeZone?: string } =>
  dealers === null ? {} : { timeZone: dealers.resolvedOptions().timeZone };

/** The day of an instant (ms): 2026-04-21. */
export const dayOf = (ms: number): string => momentOf(ms).slice(0, 10);

/** The day and the time of an instant (ms), as a clock on the wall there shows it. */
export function momentOf(ms: number): string {
  const two = (n: number | string) => String(n).padStart(2, "0");
  if (dealers === null) {
    const at = new Date(ms);
    const time = [at.getHours(), at.getMinutes(), at.getSeconds()].map(two).join(":");
    return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}T${time}`;
  }
  const parts = dealers.formatToParts(ms).map(({ type, value }) => [type, value]);
  const { year, month, day, hour, minute, second } = Object.fromEntries(parts);
  return `${year}-${month}-${day}T${hour}:${minute}:${second}`;
}
