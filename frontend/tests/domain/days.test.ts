/** Days are the dealer's, in whatever zone the phone stands. */
import fc from "fast-check";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { dayOf, inZone, momentOf, reckonIn } from "../../src/domain/days";
import type { Run, Stop } from "../../src/domain/rows";
import { type StopNow, windowMissed } from "../../src/domain/run";

const CHICAGO = "America/Chicago";
const home = process.env.TZ;

beforeEach(() => standIn("Asia/Tokyo"));
afterEach(() => {
  standIn(home);
  reckonIn("");
});

/** The phone's own clock from here on. */
function standIn(zone: string | undefined): void {
  if (zone === undefined) delete process.env.TZ;
  else process.env.TZ = zone;
}

it("a driver far away has the dealer's day", () => {
  const at = Date.UTC(2026, 3, 15, 3); // the 14th, 22:00 at the dealer's; the 15th, noon here
  expect(new Date(at).getDate()).toBe(15);
  expect(dayOf(at)).toBe("2026-04-15");
  reckonIn(CHICAGO);
  expect(dayOf(at)).toBe("2026-04-14");
  expect(momentOf(at)).toBe("2026-04-14T22:00:00");
  expect(inZone()).toEqual({ timeZone: CHICAGO });
});

it("a zone that the phone lacks, or that nobody has told, leaves it its own", () => {
  const at = Date.UTC(2026, 3, 15, 3);
  for (const zone of ["Nowhere/Nothing", ""]) {
    reckonIn(CHICAGO);
    reckonIn(zone);
    expect(momentOf(at)).toBe("2026-04-15T12:00:00");
    expect(inZone()).toEqual({});
  }
});

it("a zone that the browser knows by another name is made ready once, not at every look", () => {
  const own = Intl.DateTimeFormat;
  const made = vi.fn();
  Intl.DateTimeFormat = new Proxy(own, {
    construct(target, given) {
      made();
      return Reflect.construct(target, given);
    },
  });
  for (let i = 0; i < 3; i++) reckonIn("US/Central");
  Intl.DateTimeFormat = own;
  expect(made).toHaveBeenCalledTimes(1);
  expect(momentOf(Date.UTC(2026, 3, 15, 3))).toBe("2026-04-14T22:00:00");
});

it("it is what a phone standing there would say itself, through every change of the clocks", () => {
  const zone = fc.constantFrom(CHICAGO, "America/Anchorage", "Australia/Adelaide", "UTC");
  const instant = fc.integer({ min: 0, max: Date.UTC(2100, 0) });
  fc.assert(
    fc.property(zone, instant, (there, at) => {
      standIn("Asia/Tokyo");
      reckonIn(there);
      const told = momentOf(at);
      reckonIn("");
      standIn(there);
      expect(told).toBe(momentOf(at));
    }),
    { numRuns: 300 },
  );
});

it("a window ends when the dealer's clock says so", () => {
  const run = { on: "2026-04-14" } as Run;
  const stop = (came: string | null) =>
    ({ stop: { to: "10:00", arrived_at: came } as Stop, state: "open" }) as unknown as StopNow;
  reckonIn(CHICAGO);
  const end = Date.UTC(2026, 3, 14, 15); // 10:00 there
  expect(windowMissed(run, stop(null), end)).toBe(false);
  expect(windowMissed(run, stop(null), end + 1000)).toBe(true);
  expect(windowMissed(run, stop("2026-04-14T14:59:00Z"), end + 3_600_000)).toBe(false);
  expect(windowMissed(run, stop("2026-04-14T15:01:00Z"), end + 3_600_000)).toBe(true);
});
