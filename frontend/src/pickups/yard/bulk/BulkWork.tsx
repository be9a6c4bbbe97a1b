/**
 * What waits for somebody at a store or on a truck: trailers to be emptied, casings that came by
 * label and size and that nobody has looked at. Nothing where there is none of it.
 */
import { usePhone } from "../../context";
import { go } from "../../route";
import { testid } from "../../testids";
import { when, words } from "../../words";
import { yardName } from "../visits";
import { daysSince, toEmpty, toLookAt } from "./waiting";

export function BulkWork() {
  return (
    <>
      <TrailersToEmpty />
      <ToLookAt />
    </>
  );
}

function TrailersToEmpty() {
  const phone = usePhone();
  const w = words.value;
  const now = phone.now.value;
  const trailers = toEmpty(now.pickups);
  const clockMs = phone.deps.clock.now();
  if (trailers.length === 0) return null;
  return (
    <section {...testid("to-empty")}>
      <h2>{w.empty_list}</h2>
      <ul class="lines">
        {trailers.map(({ id, yard, trailer, finished_at, customer_count }) => {
          const days = daysSince(finished_at ?? "", clockMs);
          const said = [
            days > 0 ? w.empty_days(days) : w.empty_since(when(finished_at ?? "")),
            trailer?.seal ? w.empty_seal(trailer.seal) : w.empty_no_seal,
            ...(customer_count === null ? [] : [w.empty_count(customer_count)]),
          ];
          return (
            <li key={id}>
              <button
                type="button"
                class="line"
                onClick={() => go("pickup", id)}
                {...testid(`empty-${id}`)}
              >
                <span>
                  <b>{w.trailer(trailer?.number ?? "")}</b> · {yardName(now, yard)}
                  <br />
                  <span class="soft">{said.join(" · ")}</span>
                </span>
                <span class="go">{w.empty_open}</span>
              </button>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** Leads to the list of those that nobody has looked at. */
export function ToLookAt() {
  const w = words.value;
  const { casings, person, enrolment } = usePhone().now.value;
  const waiting = toLookAt(casings.values(), person ?? "", enrolment?.site ?? "");
  if (waiting.length === 0) return null;
  return (
    <button type="button" class="button wide" onClick={() => go("look")} {...testid("to-look-at")}>
      {w.look_n(waiting.length)}
    </button>
  );
}
