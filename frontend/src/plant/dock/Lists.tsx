/** Trucks that are on their way here, or to be loaded: each with a list to scan against. */
import { go } from "../../pickups/route";
import { testid } from "../../pickups/testids";
import { when } from "../../pickups/words";
import type { Floor } from "../floor";
import { isA } from "../stations";
import { floorWords } from "../words";
import { driverSaid, siteSaid } from "./names";

export function Lists({ floor }: { floor: Floor }) {
  const w = floorWords.value;
  const way = isA(floor.station, "receiving") ? "in" : "out";
  const lists = floor.lists.filter((list) => list.way === way);
  return (
    <section class="stack" {...testid("lists")}>
      <h2>{way === "in" ? w.lists_in : w.lists_out}</h2>
      {lists.length === 0 && (
        <p class="soft">{way === "in" ? w.lists_in_none : w.lists_out_none}</p>
      )}
      <ul class="stations">
        {lists.map((list) => (
          <li key={list.uid}>
            <button
              type="button"
              class="button station-key"
              onClick={() => go("list", list.uid)}
              {...testid(`list-${list.uid}`)}
            >
              <b>
                {way === "in"
                  ? w.list_from(siteSaid(floor, list.from))
                  : w.list_to(siteSaid(floor, list.to))}
              </b>
              <span>
                {[driverSaid(floor, list.driver), list.told_at && when(list.told_at)]
                  .filter(Boolean)
                  .join(" · ")}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
