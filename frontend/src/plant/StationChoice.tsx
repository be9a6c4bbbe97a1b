/** Which station this tablet stands at: chosen once, remembered; each with its caution. */
import { goFrom, route as at } from "../pickups/route";
import { testid } from "../pickups/testids";
import { spoken } from "../pickups/words";
import { type Floor, remember } from "./floor";
import { cautionOf, isOnRoute, stationName, stationsOf } from "./stations";
import { floorWords } from "./words";

export function StationChoice({ floor }: { floor: Floor }) {
  const w = floorWords.value;
  const { route, station, phone } = floor;
  async function choose(code: string) {
    const here = at.value;
    await remember(phone, () => ({ station: code }));
    goFrom(here);
  }
  return (
    <div class="page floor stack" {...testid("station-choice")}>
      <h1 tabIndex={-1}>{w.station_title}</h1>
      <p class="soft">{w.station_say}</p>
      {route === null && <p class="asks">{w.station_usual}</p>}
      {station !== "" && !isOnRoute(station, route) && (
        <p class="asks" {...testid("station-gone")}>
          {w.station_gone(stationName(station, route, spoken.value))}
        </p>
      )}
      <ol class="stations">
        {stationsOf(route).map((one, i) => (
          <li key={one.code}>
            <button
              type="button"
              class="button station-key"
              aria-current={one.code === station ? "true" : undefined}
              onClick={() => void choose(one.code)}
              {...testid(`station-${one.code}`)}
            >
              <span class="number">{i + 1}</span>
              <b>{stationName(one.code, route, spoken.value)}</b>
              <span class="warns">{cautionOf(one, spoken.value)}</span>
              {one.code === station && <span class="here">{w.station_here}</span>}
            </button>
          </li>
        ))}
      </ol>
    </div>
  );
}
