/**
 * A finished tire held against its order: tread design, fleet brand, retread TIN, cap count. Pure.
 *
 * What was not ordered, or cannot be known, is compared with nothing. The twin of
 * plant/inspection/ordering.py, same names; fixtures/vectors/ordering.json holds both together.
 */
import { codeOf, digitsOf, type Kind, kinds, read } from "./tin";

/** A retread TIN older than six weeks was not of this cure: the house's own figure. */
export const BRANDED_WITHIN_DAYS = 42;

export type BuiltRead = {
  tread_design: string;
  fleet_brand: string;
  retread_tin: string;
  caps: number | null;
};

/** What is to come out; plant_code: the plant's own three symbols, caps: before this time. */
export type Ordered = {
  tread_design: string;
  fleet_brand: string;
  plant_code: string;
  caps_least: number;
  caps_most: number | null;
};

/** A cap count is figures: "2", "2-3", and "2+" for two or more. */
export type Difference = {
  field: "tread_design" | "fleet_brand" | "retread_tin" | "caps";
  why:
    | "other_than_ordered"
    | "not_ordered"
    | "not_read"
    | "not_a_retread_tin"
    | "another_plants_code"
    | "not_of_these_weeks"
    | "not_one_more";
  ordered: string;
  found: string;
};

/** What is not as ordered. on: the day of the inspection at the plant. */
export function differences(ordered: Ordered, found: BuiltRead, on: string): Difference[] {
  return [
    ...design(ordered, found),
    ...brand(ordered, found),
    ...tin(ordered, found, on),
    ...caps(ordered, found),
  ];
}

/** How often it was retreaded before, from the TINs told at its pickup: at least, at most. */
export function before(
  tins: { tin: string; made?: string }[],
  on: string,
): { caps_least: number; caps_most: number | null } {
  const told = new Map<string, Kind[]>();
  for (const { tin: text, made } of tins) {
    const reading = read(text, on);
    if (reading.tin) told.set(reading.tin, made ? [made as Kind] : kinds(reading));
  }
  if (!told.size) return { caps_least: 0, caps_most: null };
  const only = (kind: Kind): number =>
    [...told.values()].filter((made) => made.length === 1 && made[0] === kind).length;
  return { caps_least: only("retread"), caps_most: told.size - only("new") };
}

const tidy = (text: string): string => text.split(/\s+/).filter(Boolean).join(" ").toLowerCase();

function design(
  { tread_design: ordered }: Ordered,
  { tread_design: found }: BuiltRead,
): Difference[] {
  if (!ordered || tidy(ordered) === tidy(found)) return [];
  return [
    { field: "tread_design", why: tidy(found) ? "other_than_ordered" : "not_read", ordered, found },
  ];
}

function brand({ fleet_brand: ordered }: Ordered, { fleet_brand: found }: BuiltRead): Difference[] {
  if (tidy(ordered) === tidy(found)) return [];
  const why = !tidy(found) ? "not_read" : tidy(ordered) ? "other_than_ordered" : "not_ordered";
  return [{ field: "fleet_brand", why, ordered, found }];
}

function tin({ plant_code }: Ordered, { retread_tin: found }: BuiltRead, on: string): Difference[] {
  const differs = (why: Difference["why"], ordered: string): Difference => ({
    field: "retread_tin",
    why,
    ordered,
    found,
  });
  if (!found.trim()) return [differs("not_read", plant_code)];
  const reading = read(found.trimStart().toUpperCase().startsWith("R") ? found : `R ${found}`, on);
  const retread = reading.candidates.find(({ layout }) => layout === "retread");
  if (!retread?.dates.length) return [differs("not_a_retread_tin", plant_code)];
  const earliest = new Date(Date.parse(on) - BRANDED_WITHIN_DAYS * 86_400_000)
    .toISOString()
    .slice(0, 10);
  const these = retread.dates.some(({ first, last }) => earliest <= last && first <= on);
  return [
    ...(plant_code && retread.plant !== plant_code
      ? [differs("another_plants_code", plant_code)]
      : []),
    ...(these ? [] : [differs("not_of_these_weeks", digitsOf(codeOf(on)))]),
  ];
}

function caps({ caps_least, caps_most }: Ordered, { caps: found }: BuiltRead): Difference[] {
  const least = caps_least + 1;
  const most = caps_most === null ? null : caps_most + 1;
  const ordered = least === most ? `${least}` : `${least}${most === null ? "+" : `-${most}`}`;
  if (found === null)
    return most === null ? [] : [{ field: "caps", why: "not_read", ordered, found: "" }];
  const fits = found >= least && (most === null || found <= most);
  return fits ? [] : [{ field: "caps", why: "not_one_more", ordered, found: `${found}` }];
}
