/** What is on a driver's truck as far as this phone knows, and which way each casing goes. Pure. */
import type { Move } from "./laying";
import type { Casing, Delivery, Site } from "./rows";

/** On its way to the plant, or on its way home. */
export type Way = "in" | "out";

const HOMEWARD = new Set(["finished", "rejected", "shipped", "returned"]);
export const wayOf = (casing: Casing): Way => (HOMEWARD.has(casing.progress) ? "out" : "in");

/** A plant's dock, or a truck that came from it and that nobody named. */
const ofPlant = (holder: string): boolean => /^(plant|road):/.test(holder);

/** The last hand-over of a label that this phone has told. */
export const lastMoveOf = (moves: Move[], label: string): Move | null =>
  moves.filter((one) => one.label === label && one.standing !== "needs_you").at(-1) ?? null;

/**
 * Which way a casing goes when `giver` gives it. This phone may not have heard for hours how far
 * its work is, so what comes from a plant goes home whatever is known of it; and what is passed on
 * goes the way by which it came to its giver, if that was told here. `guess`: where neither tells,
 * for a label that no casing on this phone wears.
 */
export function wayFrom(
  giver: string,
  casing: Casing | null,
  last: Move | null,
  guess: Way = "in",
): Way {
  if (ofPlant(giver)) return "out";
  if (casing !== null && (ofPlant(casing.holder) || wayOf(casing) === "out")) return "out";
  if (last === null) return casing === null ? guess : "in";
  // A label is worn again and again: of a casing that is known only this trip's moves count.
  const itsOwn =
    casing === null
      ? last.taker === giver || giver.startsWith("person:")
      : last.taker === giver && last.at >= casing.picked_up_at;
  if (!itsOwn) return casing === null ? guess : "in";
  return ofPlant(last.giver) || ofPlant(last.taker) ? "out" : last.way;
}

/** Its reason stays with it when it goes home. */
export const isRejected = (casing: Casing): boolean =>
  casing.progress === "rejected" || casing.reason !== "";

export const driver = (person: string): string => `person:${person}`;

/** A site as a holder: a plant's dock or a store's rack. One that is not known here is a store. */
export function holderAt(sites: Site[], id: string): string {
  const site = sites.find((one) => one.id === id);
  return `${site?.kind === "plant" ? "plant" : "site"}:${id}`;
}

export const isPlant = (place: string): boolean => place.startsWith("plant:");

/** What a plant says it has shipped stands at its dock until somebody takes it. */
export const isAt = (casing: Casing, place: string): boolean =>
  casing.holder === place || (isPlant(place) && casing.holder === place.replace("plant:", "road:"));

export interface Truck {
  casings: Casing[];
  /** Labels that were loaded here and that no casing on this phone wears. */
  unknown: string[];
}

export const count = (truck: Truck): number => truck.casings.length + truck.unknown.length;

export interface Known {
  casings: Map<string, Casing>;
  deliveries: Delivery[];
  moves: Move[];
}

export function onTruck({ casings, deliveries, moves }: Known, person: string): Truck {
  const mine = driver(person);
  const worn = new Set<string>();
  const held: Casing[] = [];
  for (const casing of casings.values()) {
    if (casing.pickup === "") continue;
    worn.add(casing.label);
    if (casing.holder === mine && casing.progress !== "returned") held.push(casing);
  }
  const unknown = new Set<string>();
  for (const { label, taker, giver, standing } of moves) {
    if (standing === "needs_you" || worn.has(label)) continue;
    if (taker === mine) unknown.add(label);
    else if (giver === mine) unknown.delete(label);
  }
  for (const { lines } of deliveries)
    for (const { label, standing } of lines) if (standing !== "needs_you") unknown.delete(label);
  held.sort((a, b) => (a.label < b.label ? -1 : 1));
  return { casings: held, unknown: [...unknown] };
}

/** What is to stay on the truck at a place although it is there. */
export interface Further {
  /** Work orders that later stops of the run are to get. */
  later: Set<string>;
  /** The run comes to a plant later: what goes there stays on. */
  plant: boolean;
  /** Work orders that the sheet has for this very place. */
  here: Set<string>;
}

export const NOTHING_FURTHER: Further = { later: new Set(), plant: false, here: new Set() };

/** What this phone expects to be unloaded at a place of the dealer's. */
export function expectedAt(truck: Truck, place: string, further: Further): Casing[] {
  return truck.casings.filter((casing) => {
    if (further.here.has(casing.id)) return true;
    if (further.later.has(casing.id)) return false;
    const goesIn = wayOf(casing) === "in";
    return isPlant(place) ? goesIn : !(goesIn && further.plant);
  });
}

export interface Difference {
  short: string[];
  over: string[];
}

/** Labels that were expected and did not come, and those that came and were not expected. */
export function difference(expected: string[], came: string[]): Difference {
  const [wanted, there] = [new Set(expected), new Set(came)];
  return {
    short: [...wanted].filter((label) => !there.has(label)),
    over: [...there].filter((label) => !wanted.has(label)),
  };
}
