/**
 * What a counter's one input means: a customer by name or yard, a casing by label or TIN, a ticket
 * by its number. Pure.
 */
import { fault, tidy } from "../../domain/labels";
import type { Casing, Pickup, Yard } from "../../domain/rows";
import { isNamed } from "../../domain/replaced";
import { ticketIn, ticketNumber } from "../../domain/ticket";

export interface Customer {
  id: string;
  name: string;
  yards: Yard[];
}

export type Match =
  | { what: "customer"; customer: Customer }
  | { what: "casing"; casing: Casing }
  | { what: "ticket"; pickup: Pickup; number: string };

export interface Found {
  matches: Match[];
  /** The text is a sound label that no casing wears: free for the next one. */
  free: string | null;
}

export interface Known {
  yards: Yard[];
  casings: Iterable<Casing>;
  pickups: Pickup[];
}

const LEAST_TIN = 4;
const LEAST_LABEL = 4;

/** The customers of these yards; one that the server does not name is known by its name. */
export function customersOf(yards: Yard[]): Customer[] {
  const found = new Map<string, Customer>();
  for (const yard of yards) {
    const id = yard.customer || yard.customer_name;
    const customer = found.get(id) ?? { id, name: yard.customer_name, yards: [] };
    customer.yards.push(yard);
    found.set(id, customer);
  }
  return [...found.values()].sort((a, b) => a.name.localeCompare(b.name));
}

export function find(typed: string, known: Known): Found {
  if (typed.trim() === "") return { matches: [], free: null };
  const label = tidy(typed);
  if (fault(label) === null) return byLabel(label, known);
  const number = ticketIn(typed);
  const tickets = known.pickups
    .filter((pickup) => number !== null && ticketNumber(pickup.id) === number)
    .map((pickup): Match => ({ what: "ticket", pickup, number: number! }));
  if (tickets.length > 0) return { matches: tickets, free: null };
  const customers = byName(typed, known.yards).map(
    (customer): Match => ({ what: "customer", customer }),
  );
  return { matches: [...customers, ...byMark(typed, known)], free: null };
}

/** Who wears a label is what is meant; one whose way is over only where nobody does. */
function byLabel(label: string, { casings }: Known): Found {
  const all = [...casings].filter((casing) => isNamed(casing, label) && casing.pickup !== "");
  const now = all.filter((casing) => casing.progress !== "returned");
  const meant = now.length > 0 ? now : all.sort(latestFirst).slice(0, 1);
  return {
    matches: meant.map((casing): Match => ({ what: "casing", casing })),
    free: meant.length === 0 ? label : null,
  };
}

/** Every word stands somewhere in the name, a yard or an address; who begins so comes first. */
function byName(typed: string, yards: Yard[]): Customer[] {
  const words = plain(typed).split(/\s+/).filter(Boolean);
  const fits = customersOf(yards).filter(({ name, yards: own }) => {
    const text = plain([name, ...own.flatMap((yard) => [yard.name, yard.address])].join(" "));
    return words.every((word) => text.includes(word));
  });
  const begins = ({ name }: Customer) => plain(name).startsWith(plain(typed).trim());
  return fits.sort((a, b) => Number(begins(b)) - Number(begins(a)));
}

/** Parts of a TIN, or the beginning of a label. */
function byMark(typed: string, { casings }: Known): Match[] {
  const marks = typed
    .toUpperCase()
    .replace(/^\s*(DOT|TIN)\b/, "")
    .split(/\s+/)
    .map(bare);
  const long = marks.join("").length >= LEAST_TIN;
  const label = tidy(typed);
  return [...casings]
    .filter(({ pickup, tins, label: own }) => {
      if (pickup === "") return false;
      if (label.length >= LEAST_LABEL && own.startsWith(label)) return true;
      return long && tins.some(({ tin }) => marks.every((mark) => bare(tin).includes(mark)));
    })
    .sort(latestFirst)
    .sort((a, b) => Number(a.progress === "returned") - Number(b.progress === "returned"))
    .map((casing): Match => ({ what: "casing", casing }));
}

const latestFirst = (a: Casing, b: Casing): number =>
  a.picked_up_at === b.picked_up_at ? 0 : a.picked_up_at > b.picked_up_at ? -1 : 1;

const bare = (tin: string): string => tin.toUpperCase().replace(/[^A-Z0-9]/g, "");

/** Without accents and capitals: names are typed in a hurry. */
const plain = (text: string): string =>
  text
    .normalize("NFD")
    .replace(/\p{Mark}/gu, "")
    .toLocaleLowerCase();
