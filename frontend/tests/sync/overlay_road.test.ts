/** Hand-overs and deliveries: the new place at once and once, through answer and pull. */
import { expect, it } from "vitest";
import { deliver, finishDelivery, handOver } from "../../src/domain/operation";
import type { Casing } from "../../src/domain/rows";
import { DRIVER, type Phone } from "../sim/Phone";
import { casing, PICKUP, type Rig, rig, YARD } from "../sim/rig";

const LABEL = "K72K54X2";
const ME = `person:${DRIVER}`;
const RACK = "site:01960000-0000-7000-8000-0000000000e1";
const PLANT = "plant:01960000-0000-7000-8000-0000000000e9";
const OWNER = "01960000-0000-7000-8000-0000000000c1";
const DELIVERY = "01963b1c-7a00-7c3e-8d21-5a0f3c6eb000";
const ORDER = "01963b1c-7a00-7c3e-8d21-5a0f3c6e0001";

const row = (r: Rig, body: object, id = ORDER) =>
  r.server.row("work_order", id, {
    ...casing(LABEL),
    customer: OWNER,
    progress: "finished",
    holder: RACK,
    picked_up_at: "2026-04-01T12:00:00.000Z",
    ...body,
  });

const all = async (phone: Phone): Promise<Casing[]> => [...(await phone.view()).casings.values()];

const out = (giver: string, taker: string) => handOver({ label: LABEL, way: "out", giver, taker });
const inward = (giver: string, taker: string) =>
  handOver({ label: LABEL, way: "in", giver, taker });
const back = (label = LABEL) => deliver({ delivery: DELIVERY, yard: YARD, label });

it("a scan shows the casing's new place at once, once, until the row has caught up", async () => {
  const r = rig();
  const phone = await r.phone();
  row(r, {});
  await phone.sync();
  expect(await all(phone)).toMatchObject([{ holder: RACK, progress: "finished" }]);
  await phone.tell(out(RACK, ME));
  const there = { id: ORDER, holder: ME, progress: "shipped" };
  expect(await all(phone)).toMatchObject([{ ...there, standing: "waiting" }]);
  r.server.feedTo = 1; // answered, and not to be seen yet
  await phone.sync();
  expect((await phone.told()).entries).toEqual([]);
  expect(await all(phone)).toMatchObject([{ ...there, standing: "recorded" }]);
  row(r, { holder: ME, progress: "shipped" });
  r.server.feedTo = null;
  await phone.sync();
  expect(await all(phone)).toMatchObject([{ ...there, standing: "recorded" }]);
  // From now on the rows' word stands: somebody took it on.
  row(r, { holder: RACK, progress: "shipped" });
  await phone.sync();
  expect(await all(phone)).toMatchObject([{ id: ORDER, holder: RACK }]);
  phone.close();
});

it("a casing picked up here is handed in before its pick_up was ever sent", async () => {
  const r = rig();
  const phone = await r.phone();
  const id = await phone.pickUp(casing(LABEL));
  await phone.tell(inward(ME, RACK));
  expect(await all(phone)).toMatchObject([{ id, holder: RACK, progress: "picked_up" }]);
  await phone.tell(inward(RACK, ME));
  await phone.tell(inward(ME, PLANT));
  expect(await all(phone)).toMatchObject([{ id, holder: PLANT, progress: "picked_up" }]);
  expect((await phone.view()).moves.map(({ taker }) => taker)).toEqual([RACK, ME, PLANT]);
  phone.close();
});

it("what the plant has received is not taken back onto the truck by a word told late", async () => {
  const r = rig();
  const phone = await r.phone();
  row(r, { holder: PLANT, progress: "in_work" });
  await phone.sync();
  await phone.tell(inward(RACK, ME));
  expect(await all(phone)).toMatchObject([{ holder: PLANT, progress: "in_work" }]);
  phone.close();
});

it("a rejected casing keeps its reason on its way home", async () => {
  const r = rig();
  const phone = await r.phone();
  row(r, { progress: "rejected", reason: "SEPARATION", holder: PLANT });
  await phone.sync();
  await phone.tell(out(PLANT, ME));
  expect(await all(phone)).toMatchObject([
    { holder: ME, progress: "shipped", reason: "SEPARATION" },
  ]);
  phone.close();
});

it("what a plant gives goes home, whatever way was told", async () => {
  const r = rig();
  const phone = await r.phone();
  row(r, { progress: "received", holder: PLANT });
  await phone.sync();
  await phone.tell(inward(PLANT, ME));
  expect(await all(phone)).toMatchObject([{ holder: ME, progress: "shipped" }]);
  phone.close();
});

it("a refused hand-over moves nothing, and its casing needs the driver", async () => {
  const r = rig();
  const phone = await r.phone();
  row(r, {});
  await phone.sync();
  const id = await phone.tell(out(RACK, ME));
  r.server.verdicts.set(id, { outcome: "refused", code: "malformed" });
  await phone.sync();
  expect(await all(phone)).toMatchObject([
    { holder: RACK, progress: "finished", standing: "needs_you" },
  ]);
  expect((await phone.view()).moves).toMatchObject([{ id, standing: "needs_you" }]);
  phone.close();
});

it("a contested hand-over lies there as a question until the rows judge it", async () => {
  const r = rig();
  const phone = await r.phone();
  row(r, {});
  await phone.sync();
  const id = await phone.tell(out(RACK, ME));
  r.server.verdicts.set(id, { outcome: "contested", code: "label_contested" });
  r.server.feedTo = 1;
  await phone.sync();
  expect(await all(phone)).toMatchObject([{ holder: ME, standing: "in_question" }]);
  row(r, { contested: true });
  r.server.feedTo = null;
  await phone.sync();
  expect(await all(phone)).toMatchObject([{ holder: RACK, standing: "in_question" }]);
  row(r, { contested: false, holder: ME, progress: "shipped" });
  await phone.sync();
  expect(await all(phone)).toMatchObject([{ holder: ME, standing: "recorded" }]);
  phone.close();
});

it("of two casings that wear a label the one is moved that the giver has", async () => {
  const r = rig();
  const phone = await r.phone();
  const other = ORDER.replace(/1$/, "2");
  row(r, { holder: RACK, picked_up_at: "2026-04-01T12:00:00.000Z" });
  row(r, { holder: PLANT, picked_up_at: "2026-04-02T12:00:00.000Z" }, other);
  await phone.sync();
  await phone.tell(out(RACK, ME));
  const held = new Map((await all(phone)).map(({ id, holder }) => [id, holder]));
  expect(held.get(ORDER)).toBe(ME);
  expect(held.get(other)).toBe(PLANT);
  phone.close();
});

it("of two casings that wore a label, one of them back, the other is delivered", async () => {
  const r = rig();
  const phone = await r.phone();
  const other = ORDER.replace(/1$/, "2");
  row(r, { holder: ME, progress: "shipped", picked_up_at: "2026-04-01T12:00:00.000Z" });
  const again = { picked_up_at: "2026-04-02T12:00:00.000Z", holder: `customer:${OWNER}` };
  row(r, { ...again, progress: "returned" }, other);
  await phone.sync();
  await phone.tell(back());
  expect((await phone.view()).deliveries).toMatchObject([{ casings: [ORDER] }]);
  phone.close();
});

it("a delivery is there from its first scan to its row, each casing once", async () => {
  const r = rig();
  const phone = await r.phone();
  r.server.row("yard", YARD, { name: "North yard", customer: OWNER });
  row(r, { holder: ME, progress: "shipped" });
  await phone.sync();
  const first = await phone.tell(back());
  await phone.tell(back()); // scanned twice before the screen knew
  const stranger = await phone.tell(back("K72K8T90"));
  const lines = [
    { id: first, label: LABEL, casing: ORDER },
    { id: stranger, label: "K72K8T90", casing: null },
  ];
  const open = { id: DELIVERY, yard: YARD, count: 2, casings: [ORDER], lines, finished_at: null };
  expect((await phone.view()).deliveries).toMatchObject([{ ...open, standing: "waiting" }]);
  expect(await all(phone)).toMatchObject([{ holder: `customer:${OWNER}`, progress: "returned" }]);
  const casings = [first, stranger];
  const end = { delivery: DELIVERY, yard: YARD, casings, signer: "Ines Corvo" };
  await phone.tell(finishDelivery(end));
  const finished = { ...open, finished_at: expect.any(String) };
  expect((await phone.view()).deliveries).toMatchObject([finished]);
  r.server.feedTo = 2;
  await phone.sync();
  expect((await phone.view()).deliveries).toMatchObject([{ ...finished, standing: "recorded" }]);
  row(r, { holder: `customer:${OWNER}`, progress: "returned" });
  r.server.row("delivery", DELIVERY, { yard: YARD, count: 2, finished_at: r.clock.now() });
  r.server.feedTo = null;
  await phone.sync();
  expect((await phone.view()).deliveries).toMatchObject([{ id: DELIVERY, count: 2, lines }]);
  expect((await phone.view()).deliveries).toHaveLength(1);
  phone.close();
});

it("a delivery that was refused is not counted, and gives way when it is told again", async () => {
  const r = rig();
  const phone = await r.phone();
  row(r, { holder: ME, progress: "shipped" });
  await phone.sync();
  const id = await phone.tell(back());
  r.server.verdicts.set(id, { outcome: "refused", code: "malformed" });
  await phone.sync();
  expect((await phone.view()).deliveries).toMatchObject([{ count: 0, casings: [] }]);
  expect(await all(phone)).toMatchObject([{ holder: ME, standing: "needs_you" }]);
  const again = await phone.tell(back());
  expect((await phone.view()).deliveries).toMatchObject([
    { count: 1, casings: [ORDER], lines: [{ id: again }] },
  ]);
  expect(await all(phone)).toMatchObject([{ progress: "returned" }]);
  phone.close();
});

it("after a kill the delivery and its lines are as they were", async () => {
  const r = rig();
  const phone = await r.phone();
  row(r, { holder: ME, progress: "shipped" });
  await phone.sync();
  await phone.tell(back());
  const before = await phone.view();
  phone.close();
  const again = await r.phone();
  expect(await again.view()).toEqual(before);
  again.close();
});

it("a label that comes a second time is the new casing's, and the old delivery keeps its own", async () => {
  const r = rig();
  const phone = await r.phone();
  row(r, { holder: ME, progress: "shipped" });
  await phone.sync();
  await phone.tell(back());
  await phone.sync();
  row(r, { holder: `customer:${OWNER}`, progress: "returned" });
  const next = ORDER.replace(/1$/, "2");
  row(
    r,
    { pickup: PICKUP, holder: ME, progress: "picked_up", picked_up_at: "2027-01-01T00:00:00.000Z" },
    next,
  );
  await phone.sync();
  expect((await phone.view()).deliveries).toMatchObject([{ casings: [ORDER] }]);
  expect((await phone.view()).casings.get(next)).toMatchObject({ holder: ME });
  phone.close();
});
