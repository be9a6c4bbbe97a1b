/** What stands on a store's rack and what its drivers bring, as this device knows it. Pure. */
import { dayOf } from "../../domain/promise";
import { type Casing, dueOn, type Person, type Yard } from "../../domain/rows";
import { driver, isRejected, wayOf } from "../../domain/truck";

export interface Owned {
  /** The customer's id, as find.ts has it. */
  id: string;
  name: string;
  casings: Casing[];
}

const here = (casing: Casing, store: string): boolean =>
  casing.pickup !== "" && casing.holder === `site:${store}` && casing.progress !== "returned";

/** Back from the plant, or rejected, and on this rack. */
export const isBack = (casing: Casing, store: string): boolean =>
  here(casing, store) && wayOf(casing) === "out";

/** Ready for its owner: back, not sold to us, and nobody has to look at it again first. */
export const isReady = (casing: Casing, store: string): boolean =>
  isBack(casing, store) &&
  casing.dealers === "" &&
  !casing.on_hold &&
  casing.standing !== "in_question";

/** On this rack on its way in. */
export const goesToPlant = (casing: Casing, store: string): boolean =>
  here(casing, store) && wayOf(casing) === "in";

/** Whose a casing is: as the server says, else by its yard. */
export function ownerOf(casing: Casing, yards: Yard[]): { id: string; name: string } {
  const yard =
    yards.find((one) => one.customer !== "" && one.customer === casing.customer) ??
    yards.find((one) => one.id === casing.yard);
  if (yard === undefined) return { id: casing.customer || casing.yard, name: "" };
  return { id: yard.customer || yard.customer_name, name: yard.customer_name };
}

/** What waits on the rack by owner: who has waited longest first, and so within each. */
export function waitingFor(casings: Iterable<Casing>, store: string, yards: Yard[]): Owned[] {
  const ready = [...casings].filter((casing) => isReady(casing, store)).sort(oldestFirst);
  const groups = new Map<string, Owned>();
  for (const casing of ready) {
    const { id, name } = ownerOf(casing, yards);
    const group = groups.get(id) ?? { id, name, casings: [] };
    group.casings.push(casing);
    groups.set(id, group);
  }
  return [...groups.values()];
}

/** When it came to this rack; where that is not told the day by which its owner was to have it,
 * else when it was taken in: the oldest first. */
const oldestFirst = (a: Casing, b: Casing): number =>
  order(since(a), since(b)) || order(a.label, b.label);
const since = (casing: Casing): string =>
  (casing.here_since && dayOf(Date.parse(casing.here_since))) ||
  dueOn(casing) ||
  dayOf(Date.parse(casing.picked_up_at));
const order = (a: string, b: string): number => (a === b ? 0 : a < b ? -1 : 1);

export interface OnTruck {
  person: Person;
  casings: Casing[];
}

/** What drivers of this place have on their trucks, by driver. */
export function onTrucks(casings: Iterable<Casing>, people: Person[]): OnTruck[] {
  const all = [...casings].filter(
    (casing) => casing.pickup !== "" && casing.progress !== "returned",
  );
  return people
    .map((person) => ({
      person,
      casings: all
        .filter((casing) => casing.holder === driver(person.id))
        .sort((a, b) => order(a.label, b.label)),
    }))
    .filter((truck) => truck.casings.length > 0);
}

export interface Tally {
  ready: number;
  rejected: number;
}

export const tally = (casings: Casing[]): Tally => {
  const rejected = casings.filter(isRejected).length;
  return { ready: casings.length - rejected, rejected };
};
