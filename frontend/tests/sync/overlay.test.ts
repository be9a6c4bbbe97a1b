/** What is seen between answer and pull, after a restore, and when the office says otherwise. */
import { expect, it } from "vitest";
import { casing, PICKUP, rig, YARD } from "../sim/rig";

const seenOf = async (phone: { pickups(): Promise<{ casings: object[] }[]> }) =>
  (await phone.pickups()).flatMap((pickup) => pickup.casings);

it("a casing is there from entry on, once, through answer and pull", async () => {
  const r = rig();
  const phone = await r.phone();
  r.server.row("yard", YARD, { name: "North yard" });
  const id = await phone.pickUp(casing());
  expect(await seenOf(phone)).toMatchObject([{ id, standing: "waiting" }]);
  r.server.feedTo = 1; // the answer comes before its effect can be seen
  await phone.sync();
  expect((await phone.told()).entries).toEqual([]);
  expect(await seenOf(phone)).toMatchObject([{ id, standing: "recorded" }]);
  r.server.feedTo = null;
  await phone.sync();
  expect(await seenOf(phone)).toMatchObject([{ id, standing: "recorded" }]);
  phone.close();
});

it("once the feed has passed it, the office's word stands", async () => {
  const r = rig();
  const phone = await r.phone();
  const id = await phone.pickUp(casing());
  await phone.pickUp({ ...casing("K72K8T90"), corrects: { fact: id, label: "K72K54X2" } });
  r.server.row("work_order", id, { ...casing("K72K6P0D"), progress: "picked_up" });
  await phone.sync();
  expect(await seenOf(phone)).toMatchObject([{ id, label: "K72K8T90" }]);
  r.server.row("work_order", id, { ...casing("K72K6P0D"), progress: "in_work" });
  await phone.sync();
  expect(await seenOf(phone)).toMatchObject([{ id, label: "K72K6P0D", progress: "in_work" }]);
  r.server.row("work_order", id, { ...casing("K72K6P0D"), withdrawn: true });
  await phone.sync();
  expect(await seenOf(phone)).toEqual([]);
  phone.close();
});

it("what is held stays in sight as a question until a row shows it", async () => {
  const r = rig();
  const phone = await r.phone();
  const id = await phone.pickUp(casing());
  r.server.verdicts.set(id, { outcome: "held", code: "version_unknown" });
  r.server.row("yard", YARD, {});
  await phone.sync();
  r.server.row("yard", YARD, {});
  await phone.sync();
  expect(await seenOf(phone)).toMatchObject([{ id, standing: "in_question" }]);
  r.server.row("work_order", id, { ...casing(), progress: "picked_up" });
  await phone.sync();
  expect(await seenOf(phone)).toMatchObject([{ id, standing: "recorded" }]);
  phone.close();
});

it("a correction, a withdrawal and the end of the visit show at once", async () => {
  const r = rig();
  const phone = await r.phone();
  const one = await phone.pickUp({ ...casing(), size: "295/75R22.5" });
  const two = await phone.pickUp(casing("K72K6P0D"));
  const original = { fact: one, label: "K72K54X2" };
  await phone.pickUp({ ...casing("K72K8T90"), size: "", treads_32nds: [[4]], corrects: original });
  await phone.withdraw({
    pickup: PICKUP,
    withdraws: { fact: two, label: "K72K6P0D" },
    reason: "Entered twice",
  });
  await phone.finish({ pickup: PICKUP, yard: YARD, casings: [one], customer_count: 2 });
  const shows = async () =>
    expect(await phone.pickups()).toMatchObject([
      {
        id: PICKUP,
        count: 1,
        customer_count: 2,
        finished_at: expect.any(String),
        casings: [
          { id: one, label: "K72K8T90", told_label: "K72K54X2", size: "", treads_32nds: [[4]] },
        ],
      },
    ]);
  await shows();
  r.server.feedTo = 0;
  await phone.sync();
  await shows();
  phone.close();
});

it("a refused correction is not shown as done, and its casing needs the driver", async () => {
  const r = rig();
  const phone = await r.phone();
  const id = await phone.pickUp({ ...casing(), size: "295/75R22.5" });
  const corrects = { fact: id, label: "K72K54X2" };
  const correction = await phone.pickUp({ ...casing("K72K8T90"), corrects });
  r.server.verdicts.set(correction, { outcome: "refused", code: "malformed" });
  await phone.sync();
  expect(await seenOf(phone)).toMatchObject([{ id, label: "K72K54X2", standing: "needs_you" }]);
  phone.close();
});

it("after a restore the rows come afresh and what was forgotten is told again, same ids", async () => {
  const r = rig();
  const phone = await r.phone();
  const ids = [];
  for (let i = 0; i < 4; i++) ids.push(await phone.pickUp(casing()));
  await phone.sync();
  const bodies = (await phone.told()).sent.map((one) => one.body);
  r.server.restore(ids.slice(2));
  expect(r.server.operations.size).toBe(2);
  expect(await phone.sync()).toBe("reached");
  expect([...r.server.operations.keys()].sort()).toEqual([...ids].sort());
  expect((await phone.told()).sent.map((one) => one.body)).toEqual(bodies);
  expect((await seenOf(phone)).length).toBe(4);
  phone.close();
});

it("a restore before the first pull is noticed by the epoch alone", async () => {
  const r = rig();
  const phone = await r.phone();
  const id = await phone.pickUp(casing());
  r.net.fates = ["pass", "drop"];
  await phone.sync();
  r.server.restore([id]);
  await phone.sync();
  expect(r.server.operations.has(id)).toBe(true);
  phone.close();
});
