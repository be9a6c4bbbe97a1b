/**
 * What a counter's one input means: a customer by name, yard or telephone, a casing by label, TIN,
 * purchase order or unit, a ticket by its number. Pure.
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
/** A local number without its area code; fewer digits are no telephone. */
const LEAST_PHONE = 7;
/** Shorter ones are found whole only. */
const LEAST_MARK = 3;

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
  const named = byName(typed, known.yards);
  const called = byPhone(typed, known.yards).filter(({ id }) =>
    named.every((one) => one.id !== id),
  );
  const customers = [...named, ...called].map(
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

/** The end of a number counts: with or without its country, area and signs. */
function byPhone(typed: string, yards: Yard[]): Customer[] {
  if (!/^[\d\s+().\-/]+$/.test(typed)) return [];
  const sought = digits(typed);
  if (sought.length < LEAST_PHONE) return [];
  return customersOf(yards).filter(({ yards: own }) =>
    own.some(({ contact_phone = "" }) => {
      const number = digits(contact_phone);
      return number.length >= LEAST_PHONE && (number.endsWith(sought) || sought.endsWith(number));
    }),
  );
}

/** Without the zeros that stand before a number dialled from outside. */
const digits = (phone: string): string => phone.replace(/\D/g, "").replace(/^0+/, "");

/** Parts of a TIN, the beginning of a label, a purchase order or a unit. */
function byMark(typed: string, { casings }: Known): Match[] {
  const marks = typed
    .toUpperCase()
    .replace(/^\s*(DOT|TIN)\b/, "")
    .split(/\s+/)
    .map(bare);
  const long = marks.join("").length >= LEAST_TIN;
  const label = tidy(typed);
  return [...casings]
    .filter(({ pickup, tins, label: own, purchase_order, unit }) => {
      if (pickup === "") return false;
      if ([purchase_order, unit].some((mark) => isMark(mark, typed))) return true;
      if (label.length >= LEAST_LABEL && own.startsWith(label)) return true;
      return long && tins.some(({ tin }) => marks.every((mark) => bare(tin).includes(mark)));
    })
    .sort(latestFirst)
    .sort((a, b) => Number(a.progress === "returned") - Number(b.progress === "returned"))
    .map((casing): Match => ({ what: "casing", casing }));
}

/** All of it, or its beginning; a single figure is on too many. */
function isMark(mark: string, typed: string): boolean {
  const [own, sought] = [bare(mark), bare(typed)];
  if (sought.length < 2 || own === "") return false;
  return own === sought || (sought.length >= LEAST_MARK && own.startsWith(sought));
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
