/** Casings, stops and a road to try the driver's rules on. */
import type { Delivery, Pickup, Run, Site, Stop } from "../../src/domain/rows";
import { type Casing, casingFromRow } from "../../src/domain/rows";
import { deliveryFromRow, visitFromRow } from "../../src/domain/visits";
import type { Road } from "../../src/domain/run";
import type { Move } from "../../src/domain/view";

export const ME = "me";
export const MINE = `person:${ME}`;
export const RACK = "site:store";
export const DOCK = "plant:plant";
export const SITES: Site[] = [
  { id: "store", name: "Bramblewick store", kind: "store" },
  { id: "other", name: "Saltmarsh store", kind: "store" },
  { id: "plant", name: "Fernhollow plant", kind: "plant" },
];
export const DAY = "2026-04-28";
export const AT = "2026-04-28T15:00:00.000Z";

export const carried = (id: string, some: Partial<Casing> = {}): Casing => ({
  ...casingFromRow(id, {
    pickup: "p",
    yard: "north",
    customer: "tarn",
    label: `LABEL${id}`,
    progress: "finished",
    holder: RACK,
    picked_up_at: "2026-04-01T12:00:00.000Z",
    back_to: "yard",
  }),
  ...some,
});

export const stop = (uid: string, some: Partial<Stop>): Stop => ({
  uid,
  yard: null,
  site: null,
  from: null,
  to: null,
  fetch: null,
  note: "",
  drop: [],
  arrived_at: null,
  skipped: null,
  loaded_at: null,
  why_added: null,
  ...some,
});

export const run = (stops: Stop[], some: Partial<Run> = {}): Run => ({
  id: "run",
  on: DAY,
  kind: "route",
  state: "handed",
  driver: ME,
  vehicle: "Truck 4",
  note: "",
  start: "store",
  loaded_at: null,
  stops,
  ...some,
});

export const road = (casings: Casing[], some: Partial<Road> = {}): Road => ({
  casings: new Map(casings.map((casing) => [casing.id, casing])),
  deliveries: [],
  pickups: [],
  moves: [],
  sites: SITES,
  links: [],
  me: ME,
  ...some,
});

export const ended = (yard: string, finished_at = AT): { pickup: Pickup; delivery: Delivery } => ({
  pickup: visitFromRow("v", { yard, finished_at, count: 1 }),
  delivery: deliveryFromRow("d", { yard, finished_at, count: 1 }),
});

export const move = (
  label: string,
  giver: string,
  taker: string,
  some: Partial<Move> = {},
): Move => ({
  id: `${label} ${giver} ${taker}`,
  label,
  way: "out",
  giver,
  taker,
  by: ME,
  at: AT,
  standing: "recorded",
  ...some,
});

export const AT_SIX = "2026-04-28T11:00:00.000Z";
/** The same run when its truck has left the start. */
export const gone = (of: Run): Run => ({ ...of, loaded_at: AT_SIX });

/** The same run with some of its stops as they stand by what was told. */
export const told = (of: Run, stops: Record<string, Partial<Stop>>): Run => ({
  ...of,
  stops: of.stops.map((one) => ({ ...one, ...stops[one.uid] })),
});
