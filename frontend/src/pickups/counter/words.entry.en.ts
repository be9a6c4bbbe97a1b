/** What is read while a casing is booked in by keyboard, in English. */
import type { Line } from "../../domain/operation";
import { counted } from "../plural";

export const entry = {
  kinds_short: {
    retread: "Retread",
    repair: "Repair",
    sell: "Sell to us",
    adjustment: "Claim",
    wheel_tire: "Wheel + tire",
    wheel: "Loose wheel",
  },
  kind_keys: {
    retread: "R",
    repair: "P",
    sell: "S",
    adjustment: "C",
    wheel_tire: "W",
    wheel: "L",
  },
  tin_line_hint:
    "The last four digits are enough; a comma between several, R marks a retread's: 4B08 4DHR 2910, R 7RT 1219",
  tins_many: (most: number) => `${most} TINs are the most that a casing can have here.`,
  tin_long: (typed: string, most: number) =>
    `“${typed}” is too long: ${most} symbols are the most; a comma between two TINs.`,
  size_long: (typed: string, most: number) =>
    `“${typed}” is too long for a size: ${most} symbols are the most.`,
  rating_long: (typed: string, most: number) =>
    `“${typed}” behind the size is too long: ${most} symbols are the most.`,
  brand_list: "Brands of this customer, then all others",
  treads: "Treads, 32nds",
  treads_hint: "676565, or 6 7 12 5; / next place, - not read",
  treads_grooves: (n: number, shown: string) => `${counted(n, "groove", "grooves")}: ${shown}.`,
  treads_places: (n: number, shown: string) => `${counted(n, "place", "places")}: ${shown}.`,
  treads_no_depth: (part: string, most: number) =>
    `“${part}” is no depth: whole numbers from 0 to ${most}, a space between.`,
  treads_two_ways: (part: string) =>
    `“${part}” can be read in more than one way: type a space between the grooves.`,
  treads_size: (typed: string, size: string, depths: string) =>
    `“${typed}” is the size ${size}, or the depths ${depths}. A size goes into the field Size; for depths type a space between the grooves.`,
  treads_many: (most: number) => `${most} grooves at a place are the most.`,
  treads_many_places: (most: number) => `${most} places round the tire are the most.`,
  treads_uneven_places: "The places do not have the same number of grooves: - is one not read.",
  seen_code: "Seen on it",
  seen_code_hint:
    "A code or some letters, Enter. Behind it: 40 is 40 mm, x3 three alike, s serial side, o other side",
  seen_list: "What can be seen on a casing",
  seen_unknown: (typed: string) =>
    `“${typed}” is nothing that can be noted. Type some letters of it, such as nail or cord.`,
  seen_full: (most: number) => `${most} things are the most for one casing.`,
  seen_last_off: (said: string) => `Taken off: ${said}.`,
  design_by_spec: (design: string) => `By their specification: ${design}`,
  brand_by_spec: (brand: string) => `By their specification: ${brand}`,
  ran: "Where it ran",
  taken_first: "Another casing is half entered: save it or clear it first.",
  scrap_none: "none counted",
  /** What comes where no day is promised. */
  instead: {
    sell: "the price comes after inspection",
    adjustment: "we tell you what was decided",
    wheel: "to be fetched as agreed",
  } as Partial<Record<Line, string>>,
  condition_none_short: "nothing noted",
  position_short: "Position",
  unit_title: "Unit",
  ticket_instead: (n: number, kind: string, instead: string) =>
    `${n === 1 ? "" : `${n} × `}${kind}: ${instead}.`,
  finish_with: (n: number, lines: string) =>
    `Finish: ${n === 0 ? "" : `${counted(n, "casing", "casings")}, `}${lines}, ticket`,
  story_kind: (kind: string) => `${kind}.`,
  story_sidewall: (read: string) => `On its sidewall: ${read}.`,
  story_tin: (tin: string) => `TIN ${tin}.`,
  story_tin_retread: (tin: string) => `TIN of a retread: ${tin}.`,
  story_ran: (where: string) => `It came off: ${where}.`,
  story_seen: (seen: string) => `Seen on it: ${seen}.`,
  story_check: (verdict: string, because: string) =>
    because === "" ? `Spec check: ${verdict}.` : `Spec check: ${verdict}, because of: ${because}.`,
  story_check_by: (number: number) => `By the customer's specification, number ${number}.`,
  story_offer: (grade: string, price: string) =>
    [grade && `grade ${grade}`, price].filter(Boolean).join(", "),
  story_sale: (offer: string) => `Offered for it: ${offer}.`,
  story_sale_open: "The price comes after inspection.",
  story_credit: (price: string) => `${price} of casing credit`,
  story_complaint: (complaint: string) => `Complained of: ${complaint}.`,
  story_rim: (rim: string) => `Its rim: ${rim}.`,
  fleet_brand: "Fleet brand",
  no_promise: "No day is promised for this kind: we tell them once it is decided.",
};
