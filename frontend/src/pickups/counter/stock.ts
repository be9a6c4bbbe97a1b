/**
 * The labels of this counter: a few codes that the server printed for its store, fetched ahead, so
 * that the next casing has its label without asking. A code is proposed once: what any casing here
 * wears is used.
 */
import { signal } from "@preact/signals";
import { takeRoll } from "../../bridge/labels";
import type { Phone } from "../../bridge/phone";
import type { Snapshot } from "../../bridge/snapshot";
import { waitMs } from "../../sync/backoff";
import { NoAnswer } from "../../sync/exchange";
import { amend, type LabelStock, type Printing, set, setting } from "../../store/local";

/** Fewer than this, and another roll is asked for. */
export const FEW = 15;
export const ROLL = 30;
const LOCK = "yardloop-labels";

const none = (site: string): LabelStock => ({
  site,
  asked: null,
  labels: [],
  unprinted: [],
  dealer: "",
  phone: "",
});

export const stock = signal<LabelStock>(none(""));
export const printing = signal<Printing>({ how: "at_once", stock: "roll" });

/** Labels of another store are not this one's. */
const ofSite = (kept: LabelStock | null, site: string): LabelStock =>
  kept !== null && kept.site === site ? kept : none(site);

/** Looks again at what is kept; another tab may have changed it. */
export async function look(phone: Phone): Promise<void> {
  const { local } = phone.deps.store;
  const site = phone.now.value.enrolment?.site ?? "";
  stock.value = ofSite(await setting(local, "label_stock"), site);
  printing.value = (await setting(local, "printing")) ?? printing.value;
}

export async function choose(phone: Phone, some: Partial<Printing>): Promise<void> {
  printing.value = { ...printing.value, ...some };
  await set(phone.deps.store.local, "printing", printing.value);
}

/** The labels that no casing wears yet, in their order. */
export function free(labels: string[], casings: Snapshot["casings"]): string[] {
  const worn = new Set([...casings.values()].map((casing) => casing.label));
  return labels.filter((label) => !worn.has(label));
}

/** What the next casing is to wear, if this counter prints. */
export const nextLabel = (now: Snapshot): string =>
  printing.value.how === "from_roll"
    ? ""
    : (free(stock.value.labels, now.casings).find((label) => !now.spoiled.includes(label)) ?? "");

/** Nobody is there to draw a label, as far as is known. */
export const noConnection = (phone: Phone): boolean =>
  !phone.deps.net.online() || ["no_signal", "server_away", "broken"].includes(phone.reach.value);

async function change(phone: Phone, how: (now: LabelStock) => LabelStock): Promise<void> {
  const site = phone.now.value.enrolment?.site ?? "";
  await amend(phone.deps.store.local, "label_stock", (kept) => how(ofSite(kept, site)));
  await look(phone);
}

/**
 * Fetches more where few are left. The roll's id is kept before it is asked for: after a lost
 * answer or a kill the same roll is asked for again, and none is printed for nothing.
 */
export async function refill(phone: Phone): Promise<void> {
  await phone.deps.locks.hold(LOCK, async () => {
    await look(phone);
    const { casings, shut } = phone.now.value;
    if (shut !== null || free(stock.value.labels, casings).length >= FEW) return;
    const asked = stock.value.asked ?? { id: phone.deps.ids.next(), count: ROLL };
    await change(phone, (now) => ({ ...now, asked }));
    const roll = await takeRoll(phone.deps, asked).catch(async (no: unknown) => {
      // Used for something else there: the next time with another one.
      if (no instanceof NoAnswer && no.problem?.code === "id_reused")
        await change(phone, (now) => ({ ...now, asked: null }));
      throw no;
    });
    await change(phone, (now) => ({
      ...now,
      asked: null,
      labels: [...free(now.labels, phone.now.value.casings), ...roll.labels],
      dealer: roll.dealer,
      phone: roll.phone,
    }));
  });
}

/**
 * Labels come by themselves: asked for until they are here, ever more rarely where nobody answers.
 * Without a connection the roll is there. Stopped by the function that it gives back.
 */
export function keepStocked(phone: Phone): () => void {
  const { clock, ids } = phone.deps;
  let failures = 0;
  let over = false;
  let cancel = () => {};
  async function fill(): Promise<void> {
    try {
      await refill(phone);
    } catch {
      failures += 1;
      if (!over) cancel = clock.after(waitMs(failures, ids.chance(), null), () => void fill());
    }
  }
  void fill();
  return () => {
    over = true;
    cancel();
  };
}

/** Whether a label is one of those that this counter has to print itself. */
export const isOurs = (label: string): boolean => stock.value.labels.includes(label);

/** Labels on casings here that nobody has printed yet. */
export function unprinted(now: Snapshot): string[] {
  const worn = new Set([...now.casings.values()].map((casing) => casing.label));
  return stock.value.unprinted.filter((label) => worn.has(label));
}

export const owePrint = (phone: Phone, label: string): Promise<void> =>
  change(phone, (now) => ({
    ...now,
    unprinted: [...now.unprinted.filter((one) => one !== label), label],
  }));

export const printedNow = (phone: Phone, labels: string[]): Promise<void> =>
  change(phone, (now) => ({
    ...now,
    unprinted: now.unprinted.filter((one) => !labels.includes(one)),
  }));
