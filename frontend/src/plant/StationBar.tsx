/** Which station, how many today, what to look out for: in sight on each of its screens. */
import { go } from "../pickups/route";
import { testid } from "../pickups/testids";
import { spoken } from "../pickups/words";
import type { Floor } from "./floor";
import { countToday } from "./shift";
import { cautionOf, stationName, stationsOf } from "./stations";
import { floorWords } from "./words";

export function StationBar({ floor, title }: { floor: Floor; title?: boolean }) {
  const w = floorWords.value;
  const { station, route, works, told, phone } = floor;
  const name = stationName(station, route, spoken.value);
  const one = stationsOf(route).find(({ code }) => code === station);
  const caution = one === undefined ? "" : cautionOf(one, spoken.value);
  const today = countToday(told, works, station, phone.deps.clock.now());
  return (
    <header class="station-bar">
      <div class="row">
        {title === false ? <p class="name">{name}</p> : <h1 tabIndex={-1}>{name}</h1>}
        <p class="today" {...testid("today")}>
          <b>{today}</b> {w.today}
        </p>
        <button
          type="button"
          class="button"
          onClick={() => go("station")}
          {...testid("station-change")}
        >
          {w.station_change}
        </button>
      </div>
      {caution !== "" && (
        <p class="caution" {...testid("station-caution")}>
          {caution}
        </p>
      )}
    </header>
  );
}
