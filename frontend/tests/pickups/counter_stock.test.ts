/** The counter's labels: fetched ahead, proposed once, and never printed for nothing. */
import "fake-indexeddb/auto";
import { signal } from "@preact/signals";
import { beforeEach, expect, it } from "vitest";
import type { Phone } from "../../src/bridge/phone";
import type { Casing } from "../../src/domain/rows";
import {
  choose,
  FEW,
  free,
  isOurs,
  look,
  nextLabel,
  noConnection,
  owePrint,
  printedNow,
  ROLL,
  refill,
  stock,
  unprinted,
} from "../../src/pickups/counter/stock";
import type { Reply } from "../../src/ports/net";
import { openStore } from "../../src/store";
import { set } from "../../src/store/local";
import { NoAnswer } from "../../src/sync/exchange";
import { FakeClock } from "../sim/FakeClock";
import { FakeIds } from "../sim/FakeIds";
import { FakeLocks } from "../sim/FakeLocks";
import { FakeNet } from "../sim/FakeNet";
import { aCasing, OTHER_STORE, STORE } from "./counter_things";

/** A server that prints: the same roll for the same id. */
class Press {
  rolls = new Map<string, string[]>();
  refuses: string | null = null;

  answer = async ({ path, body }: { path: string; body: string | Blob }): Promise<Reply> => {
    expect(path).toBe("/api/labels/rolls");
    if (this.refuses !== null) {
      const text = JSON.stringify({ code: this.refuses, title: "No", faults: [] });
      return { status: 409, text, retryAfterS: null };
    }
    const { id, count } = JSON.parse(body as string);
    const made = this.rolls.size;
    const labels =
      this.rolls.get(id) ?? Array.from({ length: count }, (_, i) => `K${made}${100 + i}AAA`);
    this.rolls.set(id, labels);
    const text = JSON.stringify({ labels, dealer: "Marrowgate", phone: "555 0100" });
    return { status: 200, text, retryAfterS: null };
  };
}

let counter = 0;

async function aCounter(prefix = `counter-${++counter}-`) {
  const press = new Press();
  const net = new FakeNet(press.answer);
  const store = await openStore(prefix);
  const enrolment = { device: "d", name: "PC", site: STORE, site_name: "S", read_token: "t" };
  await set(store.local, "enrolment", enrolment);
  const now = signal({
    enrolment,
    shut: null,
    spoiled: [] as string[],
    casings: new Map<string, Casing>(),
  });
  const ports = { clock: new FakeClock(), ids: new FakeIds(), locks: new FakeLocks() };
  const storage = { prefix, persist: async () => true };
  const deps = { ...ports, net, storage, store };
  const phone = { deps, now, reach: signal("reached") } as unknown as Phone;
  const wear = (label: string) => {
    const casings = new Map(now.value.casings);
    const casing = aCasing({ label });
    now.value = { ...now.value, casings: casings.set(casing.id, casing) };
  };
  return { press, net, phone, now, wear, prefix };
}

beforeEach(() => {
  stock.value = { ...stock.value, site: "", asked: null, labels: [], unprinted: [] };
});

it("a few are fetched ahead, with who the dealer is", async () => {
  const { phone, press } = await aCounter();
  await refill(phone);
  expect(stock.value.labels.length).toBe(ROLL);
  expect([stock.value.dealer, stock.value.phone]).toEqual(["Marrowgate", "555 0100"]);
  await refill(phone);
  expect(press.rolls.size).toBe(1);
});

it("what a casing wears is proposed to no other, and more come when few are left", async () => {
  const { phone, press, now, wear } = await aCounter();
  await refill(phone);
  const [first, second] = stock.value.labels;
  expect(nextLabel(now.value as never)).toBe(first);
  wear(first!);
  expect(nextLabel(now.value as never)).toBe(second);
  now.value = { ...now.value, spoiled: [second!] };
  expect(nextLabel(now.value as never)).toBe(stock.value.labels[2]);
  expect(isOurs(first!)).toBe(true);
  for (const label of stock.value.labels.slice(1, ROLL - FEW + 1)) wear(label);
  await refill(phone);
  expect(press.rolls.size).toBe(2);
  expect(free(stock.value.labels, now.value.casings).length).toBe(FEW - 1 + ROLL);
  expect(stock.value.labels).not.toContain(first);
});

it.each(["lost", "cut", "drop", 503] as const)(
  "an answer that is %s costs no labels: the same roll is asked for again, after a restart too",
  async (fate) => {
    const { phone, net, press, prefix } = await aCounter();
    net.fates = [fate];
    await expect(refill(phone)).rejects.toThrow(NoAnswer);
    expect(stock.value.labels).toEqual([]);
    const id = stock.value.asked?.id;
    expect(id).toBeDefined();
    stock.value = { ...stock.value, asked: null };
    const again = await aCounter(prefix);
    again.press.rolls = press.rolls;
    await refill(again.phone);
    expect([...press.rolls.keys()]).toEqual([id]);
    expect(stock.value.labels).toEqual(press.rolls.get(id!));
  },
);

it("an id that was used for something else is not asked for twice", async () => {
  const { phone, press } = await aCounter();
  press.refuses = "id_reused";
  await expect(refill(phone)).rejects.toThrow(NoAnswer);
  expect(stock.value.asked).toBeNull();
  press.refuses = null;
  await refill(phone);
  expect(stock.value.labels.length).toBe(ROLL);
});

it("labels of another store are not this one's", async () => {
  const { phone, now, press } = await aCounter();
  await refill(phone);
  now.value = { ...now.value, enrolment: { ...now.value.enrolment, site: OTHER_STORE } };
  await look(phone);
  expect(stock.value.labels).toEqual([]);
  await refill(phone);
  expect(press.rolls.size).toBe(2);
});

it("a device that the office has shut asks for none", async () => {
  const { phone, now, press } = await aCounter();
  now.value = { ...now.value, shut: "device_revoked" as never };
  await refill(phone);
  expect(press.rolls.size).toBe(0);
});

it("two tabs at once ask for one roll", async () => {
  const { phone, press } = await aCounter();
  await Promise.all([refill(phone), refill(phone)]);
  expect(press.rolls.size).toBe(1);
});

it("what is owed to the printer is kept until it is printed, and only while it is worn", async () => {
  const { phone, now, wear } = await aCounter();
  await refill(phone);
  const [first, second] = stock.value.labels as [string, string];
  for (const label of [first, second, first]) await owePrint(phone, label);
  expect(stock.value.unprinted).toEqual([second, first]);
  expect(unprinted(now.value as never)).toEqual([]);
  wear(first);
  expect(unprinted(now.value as never)).toEqual([first]);
  await printedNow(phone, [first]);
  await look(phone);
  expect(stock.value.unprinted).toEqual([second]);
});

it("a counter whose labels come off a roll is proposed none", async () => {
  const { phone, now } = await aCounter();
  await refill(phone);
  await choose(phone, { how: "from_roll" });
  expect(nextLabel(now.value as never)).toBe("");
  await choose(phone, { how: "at_once" });
  expect(nextLabel(now.value as never)).not.toBe("");
});

it("without a connection nothing can be printed", async () => {
  const { phone, net } = await aCounter();
  expect(noConnection(phone)).toBe(false);
  phone.reach.value = "server_away";
  expect(noConnection(phone)).toBe(true);
  phone.reach.value = "reached";
  net.usual = "dead";
  expect(noConnection(phone)).toBe(true);
});
