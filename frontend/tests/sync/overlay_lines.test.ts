/** Scrap that is counted and casings that stay there, between entry, answer and pull. */
import fc from "fast-check";
import { expect, it } from "vitest";
import type { Finding } from "../../src/domain/operation";
import type { VisitLine } from "../../src/domain/rows";
import { casing, PICKUP, rig, YARD } from "../sim/rig";

const AT = { pickup: PICKUP, yard: YARD };
const scrap = (count: number) => ({ ...AT, count, fee_cents: 350, manifest: "SM-20418" });
const CORD: Finding = {
  zone: "sidewall",
  kind: "cord",
  side: "other",
  mm: 60,
  count: 1,
  photos: [],
};
const left = { ...AT, brand: "Corvane", findings: [CORD], note: "told the manager" };
const row = (kind: string, more: object) => ({
  ...AT,
  kind,
  at: "2026-04-28T16:20:00.000Z",
  ...more,
});

type Phone = Awaited<ReturnType<ReturnType<typeof rig>["phone"]>>;
const linesOf = async (phone: Phone): Promise<VisitLine[]> =>
  (await phone.pickups()).flatMap((pickup) => pickup.lines);

it("a line is there from entry on, once, through answer and pull", async () => {
  const r = rig();
  const phone = await r.phone();
  r.server.row("yard", YARD, { name: "North yard" });
  const id = await phone.countScrap(scrap(6));
  const other = await phone.leaveHere(left);
  const whole = [
    { id, kind: "scrap", count: 6, fee_cents: 350, manifest: "SM-20418" },
    { id: other, kind: "left", brand: "Corvane", findings: [CORD], note: "told the manager" },
  ];
  const shows = async (standing: string) =>
    expect(await linesOf(phone)).toMatchObject(whole.map((one) => ({ ...one, standing })));
  await shows("waiting");
  r.server.feedTo = 1; // the answer comes before its effect can be seen
  await phone.sync();
  await shows("recorded");
  r.server.feedTo = null;
  r.server.row("visit_line", id, row("scrap", whole[0]!));
  r.server.row("visit_line", other, row("left", whole[1]!));
  await phone.sync();
  await shows("recorded");
  phone.close();
});

it("told again, taken back and taken after all show at once, and stay when the rows come", async () => {
  const r = rig();
  const phone = await r.phone();
  const one = await phone.countScrap(scrap(6));
  const two = await phone.countScrap(scrap(2));
  const three = await phone.leaveHere(left);
  await phone.countScrap({ ...scrap(7), fee_cents: null, corrects: one });
  await phone.countScrap({ ...scrap(0), corrects: two });
  await phone.leaveHere({ ...left, taken: true, corrects: three });
  const shows = async () =>
    expect(await linesOf(phone)).toMatchObject([{ id: one, count: 7, fee_cents: null }]);
  await shows();
  r.server.feedTo = 0;
  await phone.sync();
  await shows();
  r.server.feedTo = null;
  r.server.row("visit_line", one, row("scrap", { count: 7 }));
  r.server.row("visit_line", two, row("scrap", { count: 0, withdrawn: true }));
  r.server.row("visit_line", three, row("left", { withdrawn: true }));
  await phone.sync();
  await shows();
  phone.close();
});

it("once the feed has passed it, the office's word stands", async () => {
  const r = rig();
  const phone = await r.phone();
  const id = await phone.countScrap(scrap(6));
  r.server.row("visit_line", id, row("scrap", { count: 9 }));
  await phone.sync();
  r.server.row("visit_line", id, row("scrap", { count: 9 }));
  await phone.sync();
  expect(await linesOf(phone)).toMatchObject([{ id, count: 9 }]);
  phone.close();
});

it("a refused line stays in sight and needs its driver; a refused correction changes nothing", async () => {
  const r = rig();
  const phone = await r.phone();
  const id = await phone.countScrap(scrap(6));
  r.server.verdicts.set(id, { outcome: "refused", code: "malformed" });
  await phone.sync();
  expect(await linesOf(phone)).toMatchObject([{ id, count: 6, standing: "needs_you" }]);
  expect(await phone.pickups()).toMatchObject([{ standing: "needs_you" }]);
  const good = await phone.leaveHere(left);
  await phone.sync();
  const again = await phone.leaveHere({ ...left, taken: true, corrects: good });
  r.server.verdicts.set(again, { outcome: "refused", code: "malformed" });
  await phone.sync();
  expect(await linesOf(phone)).toContainEqual(
    expect.objectContaining({ id: good, standing: "needs_you", withdrawn: false }),
  );
  phone.close();
});

it("a correction that is held stays in sight as a question until a row shows it", async () => {
  const r = rig();
  const phone = await r.phone();
  const id = await phone.countScrap(scrap(6));
  const again = await phone.countScrap({ ...scrap(7), corrects: id });
  r.server.verdicts.set(again, { outcome: "held", code: "reference_unseen" });
  await phone.sync();
  expect(await linesOf(phone)).toMatchObject([{ id, count: 7, standing: "in_question" }]);
  phone.close();
});

it("a pickup with nothing but scrap is a pickup, and its casings' count is none", async () => {
  const r = rig();
  const phone = await r.phone();
  const id = await phone.countScrap(scrap(6));
  await phone.finish({ ...AT, casings: [], scrap: [id], customer_count: 0 });
  expect(await phone.pickups()).toMatchObject([
    { id: PICKUP, count: 0, customer_count: 0, finished_at: expect.any(String), casings: [] },
  ]);
  expect(await linesOf(phone)).toMatchObject([{ id }]);
  phone.close();
});

it("lines of a row whose visit is not known here yet stand in it all the same", async () => {
  const r = rig();
  const phone = await r.phone();
  await phone.pickUp(casing());
  r.server.row("visit_line", "01963b1c-7a00-7c3e-8d21-5a0f3c6e001b", row("scrap", { count: 4 }));
  await phone.sync();
  expect(await phone.pickups()).toMatchObject([{ casings: [{}], lines: [{ count: 4 }] }]);
  phone.close();
});

it("however it was told again, in the order of entry the last word shows", async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.nat({ max: 3 }), { maxLength: 5 }),
      fc.nat(),
      async (counts, cut) => {
        const r = rig();
        const phone = await r.phone();
        const id = await phone.countScrap(scrap(9));
        for (const [i, count] of counts.entries()) {
          if (i === cut % (counts.length + 1)) await phone.sync();
          await phone.countScrap({ ...scrap(count), corrects: id });
        }
        const last = counts.at(-1) ?? 9;
        expect((await linesOf(phone)).map((line) => line.count)).toEqual(last === 0 ? [] : [last]);
        phone.close();
      },
    ),
    { numRuns: 25 },
  );
});
