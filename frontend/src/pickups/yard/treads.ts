/**
 * Readings by place round the tire and groove across it, one after the other. Pure.
 *
 * The last place is the one being measured. Where the number of grooves is known, from this
 * casing's first place or from the casing before it, a full place opens the next by itself.
 */
import { DEEPEST_32NDS, type Position } from "../../domain/operation";
import type { Places, Position as Wheels } from "../../domain/tread";
import { MOST_GROOVES } from "./fields";

/** What the wire takes. */
export const MOST_PLACES = 6;

/** The place and groove that come next, counted from 1; full: nothing more is taken here. */
export interface Next {
  place: number;
  groove: number;
  full: boolean;
}

const last = (places: Places): Places[number] => places.at(-1) ?? [];
const told = (places: Places): Places => places.filter((place) => place.length > 0);

export function nextOf(places: Places): Next {
  const groove = last(places).length + 1;
  return { place: Math.max(1, places.length), groove, full: groove > MOST_GROOVES };
}

/** How many grooves a place has, as far as it is known: of this casing, or of one alike before. */
export function groovesOf(places: Places, before: Places[]): number | null {
  const [first, second] = places;
  if (first !== undefined && second !== undefined) return first.length;
  const like = before.map(told).findLast((one) => one.length > 1);
  return like?.[0]?.length ?? null;
}

/** A reading more; null is a groove that could not be read. A full place is followed by the next. */
export function withReading(places: Places, depth: number | null, grooves: number | null): Places {
  if (nextOf(places).full) return places;
  const place = [...last(places), depth];
  const measured = [...places.slice(0, -1), place];
  return place.length === grooves && measured.length < MOST_PLACES ? [...measured, []] : measured;
}

/** From a place with readings to the next one; from a place just opened back to the one before. */
export function turnPlace(places: Places): Places {
  if (last(places).length > 0) return places.length < MOST_PLACES ? [...places, []] : places;
  return told(places);
}

/** Without the last reading, whatever place it was in. */
export function withoutLast(places: Places): Places {
  const kept = told(places);
  const place = last(kept).slice(0, -1);
  return place.length > 0 ? [...kept.slice(0, -1), place] : [...kept.slice(0, -1)];
}

/** The last reading and so much more; as it was where no key goes that deep. */
export function deeperBy(places: Places, more: number): Places {
  const kept = told(places);
  const depth = last(kept).at(-1);
  if (depth == null || depth + more > DEEPEST_32NDS) return places;
  const place = [...last(kept).slice(0, -1), depth + more];
  return [...kept.slice(0, -1), place, ...(kept.length < places.length ? [[]] : [])];
}

/** The wheels that the law's limits tell apart. */
export const wheelsOf = (position: Position): Wheels | null =>
  position === "" ? null : position === "bus_front" ? "steer" : position;

/** "6 · 7 · 6 | 6 · – · 7": a bar between places, a dash for a groove that was not read. */
export const depthsSaid = (places: Places): string =>
  told(places)
    .map((place) => place.map((depth) => depth ?? "–").join(" · "))
    .join(" | ");
