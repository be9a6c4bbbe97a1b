/** What has to be looked out for at a chamber, where the plant says nothing of its own above. */
import { spoken } from "../../pickups/words";
import type { Floor } from "../floor";
import { cautionOf, stationsOf } from "../stations";

export function OwnCaution({ floor, said }: { floor: Floor; said: string }) {
  const one = stationsOf(floor.route).find(({ code }) => code === floor.station);
  const theirs = one === undefined ? "" : cautionOf(one, spoken.value);
  return theirs === "" ? <p class="caution">{said}</p> : null;
}
