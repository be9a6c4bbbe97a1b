/**
 * What a scanned label amounts to at loading, at unloading and at an owner's yard: taken at once,
 * done already, or asked about first. What a hand has scanned and confirmed cannot be taken back,
 * so what is odd is asked before it is told; nothing is ever forbidden. Pure.
 */
import { isNamed } from "./replaced";
import type { Casing, Delivery, Yard } from "./rows";
import { driver, isAt, isRejected, wayOf } from "./truck";

/** Why a scan is asked about, the gravest first. */
export type Doubt =
  | "other_customer"
  | "dealers"
  | "on_hold"
  | "in_question"
  | "back_with_owner"
  | "unknown"
  | "not_on_sheet"
  | "later_stop"
  | "other_yard"
  | "unfinished"
  | "elsewhere";

/** What must not leave the truck without a second look. */
const GRAVE = new Set<Doubt>(["other_customer", "dealers", "on_hold"]);
export const isGrave = (doubts: Doubt[]): boolean => doubts.some((doubt) => GRAVE.has(doubt));

export interface Asked {
  what: "take" | "again" | "ask";
  casing: Casing | null;
  /** Empty but for "ask". */
  doubts: Doubt[];
}

const again = (casing: Casing | null): Asked => ({ what: "again", casing, doubts: [] });

function asked(casing: Casing | null, doubts: (Doubt | false)[]): Asked {
  const found = doubts.filter((doubt) => doubt !== false);
  return { what: found.length > 0 ? "ask" : "take", casing, doubts: found };
}

/** The casing that a label means: the one that wears it now, else one that is back with its owner. */
function worn(casings: Iterable<Casing>, label: string, holder: string): Casing | null {
  const rank = (casing: Casing): number =>
    casing.holder === holder ? 2 : casing.progress === "returned" ? 0 : 1;
  let found: Casing | null = null;
  for (const casing of casings) {
    if (!isNamed(casing, label) || casing.pickup === "") continue;
    const better = found === null ? 1 : rank(casing) - rank(found);
    if (better > 0 || (better === 0 && casing.picked_up_at > found!.picked_up_at)) found = casing;
  }
  return found;
}

export interface AtPlace {
  casings: Iterable<Casing>;
  me: string;
  /** Where the truck stands: `site:` or `plant:` and an id. */
  place: string;
}

/** `sheet`: the work orders that are to be loaded; null where none names any. */
export function atLoading(
  label: string,
  { casings, me, place }: AtPlace,
  sheet: Set<string> | null,
): Asked {
  const mine = driver(me);
  const casing = worn(casings, label, mine);
  if (casing === null) return asked(null, ["unknown"]);
  if (casing.holder === mine) return again(casing);
  return asked(casing, [
    casing.on_hold && "on_hold",
    casing.standing === "in_question" && "in_question",
    casing.progress === "returned" && "back_with_owner",
    sheet !== null && !sheet.has(casing.id) && "not_on_sheet",
    sheet === null && !isAt(casing, place) && casing.progress !== "returned" && "elsewhere",
  ]);
}

/** `later`: work orders that a stop further on is to get. */
export function atUnloading(
  label: string,
  { casings, me, place }: AtPlace,
  later: Set<string>,
): Asked {
  const mine = driver(me);
  const casing = worn(casings, label, mine);
  if (casing === null) return asked(null, ["unknown"]);
  if (casing.holder === place) return again(casing);
  if (casing.progress === "returned") return asked(casing, ["back_with_owner"]);
  return asked(casing, [
    later.has(casing.id) && "later_stop",
    casing.holder !== mine && "elsewhere",
  ]);
}

export interface AtYard {
  casings: Iterable<Casing>;
  me: string;
  yard: Yard | null;
  /** The delivery that is open there. */
  delivery: Delivery | null;
  /** The work orders that the sheet has for this stop. */
  sheet: Set<string>;
}

export function atDelivery(label: string, at: AtYard): Asked {
  const line = at.delivery?.lines.find((one) => one.label === label);
  if (line !== undefined && line.standing !== "needs_you")
    return again([...at.casings].find((casing) => casing.id === line.casing) ?? null);
  const mine = driver(at.me);
  const casing = worn(at.casings, label, mine);
  if (casing === null) return asked(null, ["unknown"]);
  const { yard } = at;
  const foreign =
    yard !== null &&
    casing.customer !== "" &&
    yard.customer !== "" &&
    casing.customer !== yard.customer;
  const named = at.sheet.has(casing.id);
  const back = casing.progress === "returned";
  return asked(casing, [
    foreign && "other_customer",
    casing.dealers !== "" && "dealers",
    casing.on_hold && "on_hold",
    casing.standing === "in_question" && "in_question",
    back && "back_with_owner",
    !foreign && !named && yard !== null && casing.yard !== yard.id && "other_yard",
    !back && wayOf(casing) === "in" && "unfinished",
    !back && casing.holder !== mine && !named && "elsewhere",
  ]);
}

/** What is to be handed over at a yard: what the sheet says, and what is on the truck for it. */
export function toHandOver(
  held: Casing[],
  yard: string,
  sheet: (Casing | null)[],
): { casings: Casing[]; notHere: number } {
  const named = sheet.filter((casing) => casing !== null);
  const ids = new Set(named.map((casing) => casing.id));
  const others = held.filter(
    (casing) =>
      casing.yard === yard &&
      casing.dealers === "" &&
      !ids.has(casing.id) &&
      wayOf(casing) === "out" &&
      casing.back_to !== "store",
  );
  const open = named.filter((casing) => casing.progress !== "returned");
  const all = [...open, ...others].sort(
    (a, b) => Number(isRejected(a)) - Number(isRejected(b)) || (a.label < b.label ? -1 : 1),
  );
  return { casings: all, notHere: sheet.length - named.length };
}
