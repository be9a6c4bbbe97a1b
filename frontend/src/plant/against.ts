/** What final inspection reads, held against the order as it is known here; in words. */
import { before, type Difference as Differs, differences } from "../domain/ordering";
import { dayOf } from "../domain/promise";
import { type AnswerFields, measure } from "./answer";
import type { Floor } from "./floor";
import type { Difference, Work } from "./rows";
import { floorWords } from "./words";

/** Nothing where the order is not known. */
export function orderedDiffers(floor: Floor, work: Work, fields: AnswerFields): Differs[] {
  const { wanted } = work;
  if (wanted === null) return [];
  const on = dayOf(floor.phone.deps.clock.now());
  const caps = measure(fields.caps, [1, 20]);
  const ordered = {
    tread_design: wanted.tread_design,
    fleet_brand: wanted.fleet_brand,
    plant_code: floor.route?.plant_code ?? "",
    ...before(wanted.tin === "" ? [] : [{ tin: wanted.tin }], on),
  };
  const read = {
    tread_design: fields.tread_design,
    fleet_brand: fields.fleet_brand,
    retread_tin: fields.retread_tin,
    caps: typeof caps === "number" ? caps : null,
  };
  return differences(ordered, read, on);
}

/** "Fleet brand: ordered TVH, found nothing". A cap count comes in figures. */
export function differenceSaid({ field, ordered, found }: Omit<Difference, "event">): string {
  const w = floorWords.value;
  const open = field === "caps" && ordered.endsWith("+");
  return w.difference(
    w.read_fields[field] ?? field,
    open ? w.caps_least(ordered.slice(0, -1)) : ordered,
    found,
  );
}
