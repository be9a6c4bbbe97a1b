/** What stands ready for its owners, by owner, who has waited longest first. */
import { dayOf } from "../../domain/promise";
import { dueOn } from "../../domain/rows";
import { USUAL_DAYS } from "../../domain/reminding";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { dayInWords } from "../words";
import { type Owned, tally, waitingFor } from "./rack";
import { daysHere, lastStep, nextFor } from "./reminders";
import { nextSaid, stepSaid } from "./remindingSaid";
import { storeOf } from "./visits";
import { counterWords } from "./words";

export function Waiting({ most, title }: { most: number; title: boolean }) {
  const w = counterWords.value;
  const now = usePhone().now.value;
  const owners = waitingFor(now.casings.values(), storeOf(now), now.yards);
  const shown = owners.slice(0, most);
  return (
    <section>
      {title && <h2>{w.waiting}</h2>}
      {owners.length === 0 && <p class="soft">{w.waiting_none}</p>}
      <ul class="lines" {...testid("waiting-list")}>
        {shown.map((owned) => (
          <li key={owned.id}>
            <OwnerLine owned={owned} />
            <NextStep owned={owned} />
          </li>
        ))}
      </ul>
      {owners.length > shown.length && (
        <button type="button" class="button plain" onClick={() => go("waiting")}>
          {w.waiting_all(owners.length)}
        </button>
      )}
    </section>
  );
}

/** What to do so that they fetch it: the one step that comes next, and what was done last. */
function NextStep({ owned }: { owned: Owned }) {
  const phone = usePhone();
  const now = phone.now.value;
  const today = dayOf(phone.deps.clock.now());
  const days = now.sites.find((one) => one.id === storeOf(now))?.unclaimed ?? USUAL_DAYS;
  const next = nextFor(owned.casings, today, days);
  const last = lastStep(owned.casings);
  if (next === null) return null;
  const due = next.what !== "wait" && next.what !== "decided";
  return (
    <p class="remind-line">
      <button
        type="button"
        class={due ? "button" : "button plain"}
        onClick={() => go("remind", owned.id)}
        {...testid(`remind-${owned.id}`)}
      >
        {nextSaid(next)}
      </button>{" "}
      {last !== null && <span class="soft">{stepSaid(now, last)}</span>}
    </p>
  );
}

function OwnerLine({ owned }: { owned: Owned }) {
  const w = counterWords.value;
  const { ready, rejected } = tally(owned.casings);
  const { clock } = usePhone().deps;
  const first = owned.casings[0]!;
  const on = dueOn(first);
  const late = on !== null && on < dayOf(clock.now());
  return (
    <button
      type="button"
      class="line"
      onClick={() => go("hand-over", owned.id)}
      {...testid(`waiting-${owned.id}`)}
    >
      <span>
        <b>{owned.name}</b>
        <br />
        {ready > 0 && w.ready_n(ready)}
        {ready > 0 && rejected > 0 && ", "}
        {rejected > 0 && w.ready_rejected(rejected)}
        <br />
        {first.here_since !== "" && (
          <>
            {w.here_days(daysHere(first, dayOf(clock.now())))}
            <br />
          </>
        )}
        <span class={late ? "asks" : "soft"}>
          {on === null
            ? w.oldest_taken(dayInWords(dayOf(Date.parse(first.picked_up_at))))
            : late
              ? w.overdue(dayInWords(on))
              : w.promised_for(dayInWords(on))}
        </span>
      </span>
      <span class="go">{w.hand_over}</span>
    </button>
  );
}
