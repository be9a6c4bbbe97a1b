/** The cure loads that this station works on, and a new one where casings are set in. */
import { go } from "../../pickups/route";
import { testid } from "../../pickups/testids";
import type { Floor } from "../floor";
import { openLoads } from "../loads";
import { isA } from "../stations";
import { floorWords } from "../words";

export function Loads({ floor }: { floor: Floor }) {
  const w = floorWords.value;
  const { station, loads, phone } = floor;
  const sets = isA(station, "stripping") ? "out" : "in";
  const open = openLoads(loads, station);
  const running = sets === "in" ? loads.filter(({ state }) => state === "in") : [];
  return (
    <section class="stack" {...testid("loads")}>
      <h2>{sets === "in" ? w.loads_in : w.loads_out}</h2>
      {open.length === 0 && (
        <p class="soft">{sets === "in" ? w.loads_in_none : w.loads_out_none}</p>
      )}
      <ul class="stations">
        {[...open, ...running].map((load) => (
          <li key={load.uid}>
            <button
              type="button"
              class="button station-key"
              onClick={() => go("load", load.uid)}
              {...testid(`load-${load.number}`)}
            >
              <b>{w.load_named(load.number)}</b>
              <span>
                {[load.chamber && w.in_chamber(load.chamber), w.load_states[load.state] ?? ""]
                  .filter(Boolean)
                  .join(" · ")}
              </span>
              <span>{w.load_count(load.set_in.length, load.set_out.length)}</span>
            </button>
          </li>
        ))}
      </ul>
      {sets === "in" && (
        <button
          type="button"
          class="button wide"
          onClick={() => go("load", phone.deps.ids.next())}
          {...testid("load-new")}
        >
          {w.load_new}
        </button>
      )}
    </section>
  );
}
