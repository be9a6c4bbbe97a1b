/** Casings, yards and people as a counter's tests name them. All names are invented. */
import { type Casing, casingFromRow, type Yard } from "../../src/domain/rows";

export const STORE = "01960000-0000-7000-8000-00000000c001";
export const OTHER_STORE = "01960000-0000-7000-8000-00000000c002";
export const PLANT = "01960000-0000-7000-8000-00000000f001";
export const DALE = { id: "01960000-0000-7000-8000-0000000000b1", name: "Dale", role: "driver" };
export const NOOR = { id: "01960000-0000-7000-8000-0000000000b2", name: "Noor", role: "counter" };

const yard = (id: string, customer: string, customer_name: string, name: string): Yard => ({
  id,
  customer,
  customer_name,
  name,
  address: `${name} road`,
});

export const YARDS: Yard[] = [
  yard("y-tarn-north", "c-tarn", "Tarn Valley Haulage", "North yard"),
  yard("y-tarn-south", "c-tarn", "Tarn Valley Haulage", "South gate"),
  yard("y-hollow", "c-hollow", "Hollow Creek Dairy", "Creamery"),
  yard("y-perez", "c-perez", "Pérez e Hijos", "Patio"),
];

let count = 0;

/** A casing as the server's row has it; it is on this store's rack unless something else is said. */
export function aCasing(said: Record<string, unknown> = {}): Casing {
  const { id = `w${++count}`, ...body } = said;
  return casingFromRow(String(id), {
    pickup: "p1",
    yard: "y-tarn-north",
    customer: "c-tarn",
    label: "K7000Y02",
    progress: "picked_up",
    holder: `site:${STORE}`,
    store: STORE,
    picked_up_at: "2026-05-04T15:00:00.000Z",
    ...body,
  });
}

export const byId = (...casings: Casing[]): Map<string, Casing> =>
  new Map(casings.map((casing) => [casing.id, casing]));
