/** A label replaced on this phone: at once and once, before and after its pick_up was sent. */
import { expect, it } from "vitest";
import { handOver, pickUp, relabel } from "../../src/domain/operation";
import { DRIVER, type Phone } from "../sim/Phone";
import { casing, rig } from "../sim/rig";

const [OLD, NEW, THIRD] = ["K72K54X2", "K7004XXJ", "K70047TK"] as const;
const PLANT = "plant:01960000-0000-7000-8000-0000000000e9";
const swap = (label: string, now: string) => relabel({ label, now, why: "lost", known_by: "TIN" });

const only = async (phone: Phone) => {
  const { casings } = await phone.view();
  expect(casings.size).toBe(1);
  return [...casings.values()][0]!;
};

it("what was told under the old label and is told under the new one is of one casing", async () => {
  const r = rig();
  const phone = await r.phone();
  await phone.pickUp(casing(OLD));
  await phone.tell(swap(OLD, NEW));
  expect(await only(phone)).toMatchObject({
    label: NEW,
    void_labels: [OLD],
    picked_up_under: OLD,
    standing: "waiting",
  });
  await phone.tell(swap(NEW, THIRD));
  await phone.tell(handOver({ label: OLD, way: "in", giver: `person:${DRIVER}`, taker: PLANT }));
  expect(await only(phone)).toMatchObject({
    label: THIRD,
    void_labels: [OLD, NEW],
    holder: PLANT,
  });
  // Whatever lists hand-overs by label finds the one that is worn.
  expect((await phone.view()).moves.map((move) => move.label)).toEqual([THIRD]);
  phone.close();
});

it("a sheet that is told again keeps the label in its place, unless it names another", async () => {
  const r = rig();
  const phone = await r.phone();
  const id = await phone.pickUp(casing(OLD));
  await phone.tell(swap(OLD, NEW));
  const again = { ...casing(OLD), size: "11R22.5", corrects: { fact: id, label: OLD } };
  await phone.tell(pickUp(again));
  expect(await only(phone)).toMatchObject({ label: NEW, size: "11R22.5", void_labels: [OLD] });
  await phone.tell(pickUp({ ...again, label: THIRD }));
  expect(await only(phone)).toMatchObject({ label: THIRD, void_labels: [] });
  phone.close();
});
