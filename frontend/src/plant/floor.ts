/** What every screen of the floor starts from: this tablet's station, route, casings, its own words. */
import { useMemo } from "preact/hooks";
import type { Phone } from "../bridge/phone";
import { amend, type FloorKept } from "../store/local";
import { usePhone } from "../pickups/context";
import { type Event, events, inside } from "./laid";
import { loads } from "./loads";
import {
  type Consignment,
  consignments,
  type Load,
  type Route,
  routeFrom,
  type Work,
} from "./rows";
import { orderOf, stationsOf } from "./stations";

export interface Floor {
  phone: Phone;
  plant: string;
  /** Empty as long as none was chosen. */
  station: string;
  kept: FloorKept;
  route: Route | null;
  order: string[];
  works: Map<string, Work>;
  told: Event[];
  loads: Load[];
  lists: Consignment[];
}

const NOTHING_KEPT: FloorKept = { station: "", machines: {}, lots: {}, loads: {}, pitches: {} };

export function useFloor(): Floor {
  const phone = usePhone();
  const now = phone.now.value;
  const { rows, told } = now.floor;
  const plant = now.enrolment?.site ?? "";
  const read = useMemo(() => {
    const route = routeFrom(rows, plant);
    const order = orderOf(route);
    const own = events(told);
    const works = inside(rows, told, stationsOf(route));
    return {
      route,
      order,
      works,
      told: own,
      loads: loads(rows, told, works, phone.deps.clock.now()),
      lists: consignments(rows),
    };
  }, [rows, told, plant]);
  const kept = { ...NOTHING_KEPT, ...now.floor.kept };
  return { phone, plant, station: kept.station, kept, ...read };
}

/** Remembered on this tablet, whoever holds it. */
export async function remember(
  phone: Phone,
  some: (kept: FloorKept) => Partial<FloorKept>,
): Promise<void> {
  await amend(phone.deps.store.local, "floor", (kept) => {
    const now = { ...NOTHING_KEPT, ...kept };
    return { ...now, ...some(now) };
  });
  await phone.changed();
}

/** Roles that may undo a hold or a rejection: whoever answers for the plant, not each station. */
const RELEASE = new Set(["admin", "dispatcher"]);

export function mayRelease(phone: Phone): boolean {
  const { people, person } = phone.now.value;
  return RELEASE.has(people.find(({ id }) => id === person)?.role ?? "");
}
