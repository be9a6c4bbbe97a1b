/** Today: what is open on this phone, the yards to start from, what was picked up lately. */
import { useState } from "preact/hooks";
import type { Snapshot } from "../../bridge/snapshot";
import type { Pickup, Yard } from "../../domain/rows";
import { set } from "../../store/local";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { when, words } from "../words";
import { openVisits, yardName } from "./visits";

export function TodayScreen() {
  const w = words.value;
  const now = usePhone().now.value;
  const open = openVisits(now);
  return (
    <div class="page stack">
      <h1 tabIndex={-1}>{w.today}</h1>
      {open.length > 0 && (
        <section>
          <h2>{w.open_pickups}</h2>
          <ul class="lines">
            {open.map((visit, i) => (
              <li key={visit.id}>
                <button
                  type="button"
                  class={`line big${i === 0 ? " next" : ""}`}
                  onClick={() => go("pickup", visit.id)}
                  {...testid(`open-${visit.id}`)}
                >
                  <span>
                    <b>{yardName(now, visit.yard)}</b>
                    <br />
                    {w.on_this_pickup(visit.count)}
                    {visit.draft && ` · ${w.sheet_kept}`}
                  </span>
                  <span class="go">{w.carry_on}</span>
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
      {now.shut === null ? <Start /> : <p class="notice">{w.shut_start}</p>}
      <Lately now={now} open={open.map((visit) => visit.id)} />
    </div>
  );
}

function Start() {
  const phone = usePhone();
  const w = words.value;
  const now = phone.now.value;
  const [search, setSearch] = useState("");
  const asked = search.trim().toLocaleLowerCase();
  const found = now.yards.filter((yard) =>
    `${yard.name} ${yard.customer_name} ${yard.address}`.toLocaleLowerCase().includes(asked),
  );

  async function start(yard: Yard) {
    const there = openVisits(now).find((visit) => visit.yard === yard.id);
    if (there !== undefined) return go("pickup", there.id);
    const visit = {
      pickup: phone.deps.ids.next(),
      yard: yard.id,
      begun_at: phone.deps.clock.now(),
    };
    await set(phone.deps.store.local, "visits", [...now.visits, visit]);
    await phone.changed();
    go("pickup", visit.pickup);
  }

  return (
    <section class="stack">
      <h2>{w.start_title}</h2>
      {now.yards.length === 0 ? (
        <p class="notice">{w.start_none}</p>
      ) : (
        <Field
          id="yard-search"
          title={w.start_search}
          value={search}
          onValue={setSearch}
          input={{ ...testid("yard-search"), type: "search" }}
        />
      )}
      {now.yards.length > 0 && found.length === 0 && <p>{w.start_no_match}</p>}
      <ul class="lines">
        {found.slice(0, 30).map((yard) => (
          <li key={yard.id}>
            <button
              type="button"
              class="line"
              onClick={() => void start(yard)}
              {...testid(`yard-${yard.id}`)}
            >
              <span>
                <b>{yard.customer_name}</b>, {yard.name}
                <br />
                <span class="soft">{yard.address}</span>
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Lately({ now, open }: { now: Snapshot; open: string[] }) {
  const w = words.value;
  const lately = now.pickups.filter((pickup) => !open.includes(pickup.id)).slice(0, 10);
  return (
    <section>
      <h2>{w.recent_title}</h2>
      {lately.length === 0 && <p class="soft">{w.recent_none}</p>}
      <ul class="lines">
        {lately.map((pickup) => (
          <li key={pickup.id}>
            <button
              type="button"
              class="line"
              onClick={() => go("pickup", pickup.id, "receipt")}
              {...testid(`recent-${pickup.id}`)}
            >
              <span>
                <b>{yardName(now, pickup.yard)}</b>
                <br />
                {w.casings(pickup.count)} · {stands(pickup)}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** When it was finished, and what of it the office does not have yet. */
function stands(pickup: Pickup): string {
  const w = words.value;
  const at = pickup.finished_at === null ? w.not_finished : w.finished_at(when(pickup.finished_at));
  if (pickup.standing === "recorded") return at;
  const said = { waiting: w.waiting_to_send, in_question: w.question_open, needs_you: w.needs_you };
  return `${at} · ${said[pickup.standing]}`;
}
