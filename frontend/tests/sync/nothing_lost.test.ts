/**
 * Whatever the network does, whenever the phone is killed, however its clock jumps: every entered
 * operation reaches the server, none leaves the outbox without an answer, numbers have no gap and
 * stamps rise strictly.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Envelope } from "../../src/domain/operation";
import type { Fate } from "../sim/FakeNet";
import { Life, mortal } from "../sim/mortal";
import { Phone } from "../sim/Phone";
import { casing, type Rig, rig } from "../sim/rig";

const DAY = 24 * 3600 * 1000;

type Step =
  | { do: "enter"; photo: boolean }
  | { do: "sync" }
  | { do: "jump"; ms: number }
  | { do: "wait"; ms: number }
  | { do: "restore"; forget: number };

const fate = fc.constantFrom<Fate>(
  "pass",
  "drop",
  "lost",
  "cut",
  "double",
  "late",
  "dead",
  "portal",
  500,
  503,
  413,
);
const step: fc.Arbitrary<Step> = fc.oneof(
  { weight: 5, arbitrary: fc.record({ do: fc.constant("enter" as const), photo: fc.boolean() }) },
  { weight: 4, arbitrary: fc.constant({ do: "sync" as const }) },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constant("jump" as const),
      ms: fc.integer({ min: -3 * DAY, max: 3 * DAY }),
    }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant("wait" as const), ms: fc.nat(600_000) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant("restore" as const), forget: fc.nat(4) }) },
);

/** Ids of what the phone said was entered, each with the hash of its photo. */
type Entered = Map<string, string | null>;

/** One life of the phone, until its breath is out; says what it was told that it had entered. */
async function liveOnce(r: Rig, steps: Step[], breaths: number, entered: Entered): Promise<void> {
  const life = new Life(breaths);
  let phone: Phone | null = null;
  try {
    phone = await Phone.open(mortal(r.ports, life));
    for (const s of steps) {
      if (life.dead) break;
      if (s.do === "enter") {
        const blob = new Blob([`photo ${entered.size}`], { type: "image/jpeg" });
        const photos = s.photo ? [{ sha256: `${entered.size}`.padStart(64, "0"), blob }] : [];
        const id = r.ports.ids.next();
        await phone.pickUp(casing(), id, photos);
        // Only what was said to be entered has to be there.
        entered.set(id, photos[0]?.sha256 ?? null);
      } else if (s.do === "sync") await phone.sync();
      else if (s.do === "jump") r.clock.jump(s.ms);
      else if (s.do === "wait") r.clock.advance(s.ms);
      else r.server.restore([...r.server.operations.keys()].reverse().slice(0, s.forget));
    }
    if (!life.dead) expect(phone.faults).toEqual([]);
  } catch (fault) {
    if (!life.dead) throw fault;
  } finally {
    phone?.close();
  }
}

describe("nothing is lost", () => {
  it("whatever the network does and wherever the phone is killed", {
    timeout: 120_000,
  }, async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(
          fc.record({
            steps: fc.array(step, { maxLength: 8 }),
            breaths: fc.integer({ min: 1, max: 160 }),
          }),
          { minLength: 1, maxLength: 4 },
        ),
        fc.array(fate, { maxLength: 25 }),
        // A server that takes so few at once makes many batches of few operations.
        fc.constantFrom(2, 500),
        async (lives, fates, most) => {
          const r = rig();
          r.server.gate = (ask) =>
            ask.path === "/api/sync/push" && JSON.parse(ask.body as string).operations.length > most
              ? 413
              : null;
          (await r.phone()).close();
          r.net.fates = [...fates];
          const entered: Entered = new Map();
          for (const one of lives) {
            await liveOnce(r, one.steps, one.breaths, entered);
            await outboxHolds(r, entered);
          }
          r.net.fates = [];
          await atLastDelivered(r, entered);
        },
      ),
      { numRuns: 150 },
    );
  });
});

/** What was entered is in the outbox, or answered: then the server has heard it. Never both. */
async function outboxHolds(r: Rig, entered: Entered): Promise<void> {
  const phone = await Phone.open(r.ports);
  const { entries, sent, photos } = await phone.told();
  const waiting = new Set(entries.map((e) => e.id));
  const answered = new Set(sent.map((s) => s.id));
  for (const [id, sha256] of entered) {
    expect(waiting.has(id) !== answered.has(id)).toBe(true);
    if (answered.has(id)) expect(r.server.heard.has(id)).toBe(true);
    if (sha256 !== null) expect(photos.includes(sha256) || r.server.photos.has(sha256)).toBe(true);
  }
  phone.close();
}

async function atLastDelivered(r: Rig, entered: Entered): Promise<void> {
  const phone = await Phone.open(r.ports);
  for (let i = 0; i < 12 && (await phone.sync()) !== "reached"; i++) r.clock.advance(1);
  const { entries, photos, refusals } = await phone.told();
  // A 413 for one lone operation is the server's word: the driver is told, the entry stays.
  const refused = new Set(refusals.map((refusal) => refusal.id));
  expect(entries.filter((entry) => !refused.has(entry.id))).toEqual([]);
  expect(photos.filter((sha256) => !refused.has(sha256))).toEqual([]);
  for (const id of entered.keys()) {
    expect(r.server.operations.has(id) || refused.has(id)).toBe(true);
  }
  const all = new Map(r.server.operations);
  for (const { id, body } of entries) all.set(id, JSON.parse(body) as Envelope);
  const inOrder = [...all.values()].sort((a, b) => a.sequence - b.sequence);
  expect(inOrder.map((o) => o.sequence)).toEqual(inOrder.map((_, i) => i + 1));
  expect(new Set(inOrder.map((o) => o.incarnation)).size).toBeLessThanOrEqual(1);
  for (let i = 1; i < inOrder.length; i++) {
    expect(inOrder[i]!.stamp).toBeGreaterThan(inOrder[i - 1]!.stamp);
  }
  const casings = (await phone.pickups()).flatMap((p) => p.casings.map((c) => c.id));
  expect(casings.length).toBe(new Set(casings).size);
  for (const id of entered.keys()) expect(casings).toContain(id);
  phone.close();
}
