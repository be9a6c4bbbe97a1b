/** When the phone tries again by itself. */
import { describe, expect, it } from "vitest";
import { FIRST_MS, LONGEST_MS, quietMs, waitMs } from "../../src/sync/backoff";
import { DRIVER } from "../sim/Phone";
import { casing, rig, YARD } from "../sim/rig";

describe("tries again", () => {
  it("by itself, ever more rarely, and at once when all is well again", async () => {
    const r = rig();
    const phone = await r.phone();
    const id = await phone.pickUp(casing());
    r.net.usual = "drop";
    const waits = [];
    await phone.sync();
    for (let i = 0; i < 10; i++) {
      waits.push(r.clock.nextInMs()!);
      r.clock.advance(r.clock.nextInMs()!);
      await phone.sync(); // joins the run that the timer began
    }
    expect(waits[0]).toBeGreaterThanOrEqual(FIRST_MS / 2);
    expect(waits.at(-1)).toBeGreaterThan(waits[0]! * 20);
    expect(Math.max(...waits)).toBeLessThanOrEqual(LONGEST_MS);
    r.net.usual = "pass";
    r.clock.advance(LONGEST_MS);
    await phone.sync();
    expect(r.server.operations.has(id)).toBe(true);
    phone.close();
  });

  it("not before Retry-After has passed", async () => {
    const r = rig();
    const phone = await r.phone();
    await phone.pickUp(casing());
    r.server.gate = () => 503;
    r.server.retryAfterS = 120;
    await phone.sync();
    expect(r.clock.nextInMs()).toBeGreaterThanOrEqual(120_000);
    phone.close();
  });

  it("looks again soon as long as nobody can say who holds the phone", async () => {
    const r = rig();
    const phone = await r.phone();
    r.server.row("yard", YARD, { name: "North yard" });
    await phone.sync();
    expect(r.clock.nextInMs()).toBeLessThan(5_000);
    r.server.row("person", DRIVER, { name: "Dale Orrin" });
    r.clock.advance(5_000);
    await phone.sync();
    expect(r.clock.nextInMs()).toBeGreaterThan(40_000);
    phone.close();
  });

  it("is spread by chance within its bounds", () => {
    for (const chance of [0, 0.5, 0.999]) {
      expect(waitMs(1, chance, null)).toBeGreaterThanOrEqual(FIRST_MS / 2);
      expect(waitMs(50, chance, null)).toBeLessThanOrEqual(LONGEST_MS);
      expect(quietMs(chance, true)).toBeGreaterThan(40_000);
      expect(quietMs(chance, false)).toBeLessThan(5_000);
    }
    expect(waitMs(3, 0, null)).toBeLessThan(waitMs(3, 0.9, null));
  });
});
