/** The spec check in words: each ground as a sentence with its figures, and what is told of it. Pure. */
import {
  becauseOf,
  type Ground,
  type Looked,
  type Result,
  type Specification,
} from "../../domain/eligibility";
import type { Condition, Work, Zone } from "../../domain/operation";
import { ageYears, read } from "../../domain/tin";
import type { Checked, SeenFields } from "./seen";
import type { SeenWords } from "./words.en";

/** What the wire takes of a reason. */
export const OVERRULED_MOST = 500;

export const lookedAt = (fields: SeenFields, work: Work): Looked => ({
  line: fields.line,
  tins: fields.tins,
  size: fields.size,
  brand: fields.brand,
  findings: fields.findings,
  position: fields.position,
  work,
});

/** Something of it was read or seen: before that there is nothing to judge. */
export const isLookedAt = ({ tins, size, brand, findings }: Looked): boolean =>
  tins.some(({ tin }) => tin.trim() !== "") ||
  size.trim() !== "" ||
  brand.trim() !== "" ||
  findings.length > 0;

export const checkedAs = (result: Result, specification: Specification | null): Checked => ({
  verdict: result.verdict,
  specification: specification?.id ?? null,
  number: specification?.number ?? null,
  because: becauseOf(result),
});

/** A casing that should stay is not taken without a reason. */
export const wantsReason = (result: Result, fields: SeenFields): boolean =>
  result.verdict === "leave" && fields.overruled.trim() === "";

export function verdictSaid({ verdict }: Result, w: SeenWords): string {
  return { take: w.spec_take, plant: w.spec_plant, leave: w.spec_leave }[verdict];
}

/** That it should stay, and the gravest reason; null where it need not, or nothing was seen yet. */
export function staysSaid(
  { result, looked, today }: { result: Result; looked: boolean; today: string },
  seen: Pick<Looked, "tins">,
  w: SeenWords,
): string | null {
  const [gravest] = result.grounds;
  if (!looked || result.verdict !== "leave" || gravest === undefined) return null;
  return `${verdictSaid(result, w)}. ${groundSaid(gravest, seen, today, w)}`;
}

/** One rule that spoke, with its figures. `tins` and `today` name the week that an age is of. */
export function groundSaid(
  { rule, facts }: Ground,
  { tins }: Pick<Looked, "tins">,
  today: string,
  w: SeenWords,
): string {
  const n = (key: string): number => Number(facts[key] ?? 0);
  const text = (key: string): string => String(facts[key] ?? "");
  const kind = w.kinds[text("kind") as Condition] ?? "";
  const zone = (w.zones[text("zone") as Zone] ?? "").toLowerCase();
  switch (rule) {
    case "stop_condition":
      return w.ground_stop(kind, zone);
    case "dot_removed":
      return w.ground_dot_removed;
    case "too_old":
      return capital(w.ground_too_old(weekOf(tins, n("found"), today, w), n("limit")));
    case "too_many_caps":
      return w.ground_caps(n("found"), n("limit"));
    case "too_many_nail_holes":
      return w.ground_nail_holes(n("found"), n("limit"));
    case "repair_not_accepted":
      return w.ground_repair(kind, zone);
    case "brand_not_accepted":
      return w.ground_brand(text("brand"));
    case "size_not_accepted":
      return w.ground_size(text("size"));
    case "no_tin":
      return w.ground_no_tin;
    case "mileage_contract":
      return w.ground_mileage;
    case "date_unread":
      return w.ground_date_unread(n("limit"));
    case "decade_open":
      return w.ground_decade(text("digits"), n("limit"));
    case "birth_open":
      return w.ground_birth(text("digits"), n("limit"));
    case "caps_open":
      return w.ground_caps_open(n("least"), n("most"), n("limit"));
    case "plant_judges":
      return w.ground_plant(kind, zone);
    case "brand_open":
      return w.ground_brand_open;
    case "size_open":
      return text("size") === "" ? w.ground_size_open : w.ground_size_unread(text("size"));
    case "bus_front_wheel":
      return w.ground_bus(text("section"));
  }
}

/** "week 12 of 2010: " of the TIN whose age was found; "" where none has that age. */
function weekOf(tins: Looked["tins"], years: number, today: string, w: SeenWords): string {
  for (const { tin } of tins) {
    const dates = read(tin, today).candidates.flatMap((candidate) => candidate.dates);
    const meant = dates.find((date) => date.first <= today && ageYears(date, today) === years);
    if (meant !== undefined) return `${w.spec_week(meant.week, meant.year)}: `;
  }
  return "";
}

const capital = (said: string): string => said.charAt(0).toUpperCase() + said.slice(1);
