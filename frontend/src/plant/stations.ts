/**
 * The stations of a route as a tablet chooses among them, and what more than an answer is told at
 * some: gauges, lots, a machine, an envelope, a load, a tag. A station is known by its code; one
 * that a plant has added has the three answers alone. Pure.
 */
import type { Material } from "../domain/plantTelling";
import said from "../pickups/said.json";
import type { Route, Station } from "./rows";

/** What is asked at a station besides the answer. */
export type More = "buffed" | "tread" | "lots" | "envelope" | "load" | "built" | "tag";

const MORE: Record<string, More[]> = {
  buffing: ["buffed"],
  repair: ["lots"],
  cementing: ["lots"],
  "cushion-gum": ["lots"],
  building: ["tread", "lots"],
  enveloping: ["envelope"],
  curing: ["load"],
  stripping: ["load"],
  "final-inspection": ["built"],
  paint: ["tag"],
};

/** A plant that doubles a station adds to its code: `repair-2` mends as `repair` does. */
export const isA = (station: string, ...codes: string[]): boolean =>
  codes.some((code) => station === code || station.startsWith(`${code}-`));

const of = <T>(table: Record<string, T>, station: string, none: T): T =>
  table[station] ?? table[Object.keys(table).find((code) => isA(station, code)) ?? ""] ?? none;

/** The finished tag goes on where a casing is finished, whatever that station is called. */
export const moreAt = (station: string, stations: Station[]): More[] => {
  const more = of(MORE, station, []);
  return doneAt(station, stations) === "finished" && !more.includes("tag")
    ? [...more, "tag"]
    : more;
};

/** Materials that are used up at a station; their lots stay remembered until the next lot. */
const MATERIALS_AT: Record<string, Material[]> = {
  repair: ["repair_unit", "repair_gum"],
  cementing: ["cement"],
  "cushion-gum": ["cushion_gum"],
  building: ["tread"],
};

export const materialsAt = (station: string): Material[] => of(MATERIALS_AT, station, []);

/** The stations of a plant that has not told its own: the default route, in its order. */
const USUAL: Station[] = Object.keys(said.stations).map((code) => ({
  code,
  name: "",
  name_es: "",
  caution: "",
  caution_es: "",
  scans: true,
  optional: false,
  machines: [],
}));

export const stationsOf = (route: Route | null): Station[] =>
  route === null || route.stations.length === 0 ? USUAL : route.stations;

/** False where the plant's route has come and names other stations: its word would be of no use. */
export const isOnRoute = (station: string, route: Route | null): boolean =>
  route === null || orderOf(route).includes(station) || route.stations.length === 0;

export const orderOf = (route: Route | null): string[] => stationsOf(route).map(({ code }) => code);

type Catalogue = Record<string, { en: string; es: string }>;

const large = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** As the plant calls it; else as the catalogue does. */
export function stationName(code: string, route: Route | null, spoken: "en" | "es"): string {
  const own = route?.stations.find((one) => one.code === code);
  const usual = (said.stations as Catalogue)[code]?.[spoken] ?? code.replaceAll("-", " ");
  return (spoken === "es" ? own?.name_es : own?.name) || large(usual);
}

/** What to look out for here, as the plant says it; local codes and licensed practice come first. */
export const cautionOf = (one: Station, spoken: "en" | "es"): string =>
  (spoken === "es" && one.caution_es) || one.caution;

/** The word that says: done here. What it is differs by station. */
export function doneAt(
  station: string,
  stations: Station[],
): "received" | "passed" | "finished" | "shipped" {
  if (isA(station, "receiving")) return "received";
  if (isA(station, "shipping")) return "shipped";
  return isA(station, "paint") || station === finishes(stations) ? "finished" : "passed";
}

/** Where no station paints: the last one before shipping to which every casing comes. */
function finishes(stations: Station[]): string {
  if (stations.some(({ code }) => isA(code, "paint"))) return "";
  const before = stations.findIndex(({ code }) => isA(code, "shipping"));
  return (
    stations
      .slice(0, before < 0 ? stations.length : before)
      .findLast(({ code, scans, optional }) => scans && !optional && !isA(code, "receiving"))
      ?.code ?? ""
  );
}

const WORKED = ["buffing", "skiving", "repair", "cushion-gum", "building", "enveloping", "curing"];

/** Stations to which a casing can go back to be worked again: those before this one that work. */
export function backTo(station: string, order: string[]): string[] {
  const place = order.indexOf(station);
  return place < 0 ? [] : order.slice(0, place).filter((code) => isA(code, ...WORKED));
}

/** The last place where an injury is repaired; -1 where there is none. */
const mends = (order: string[]): number => order.findLastIndex((code) => isA(code, "repair"));

/** Behind its repair a mark sends a casing back; before, it goes on to be repaired. */
export const isBehindRepair = (station: string, order: string[]): boolean =>
  mends(order) >= 0 && order.indexOf(station) > mends(order);

/** The next station that scans it; one that is optional only where something is to be repaired. */
export function nextAfter(station: string, stations: Station[], marked: boolean): string {
  const place = stations.findIndex(({ code }) => code === station);
  const next = stations
    .slice(place + 1)
    .find(
      ({ code, scans, optional }) =>
        scans && (!optional || (marked && isA(code, "repair", "skiving"))),
    );
  return next?.code ?? "";
}
