/**
 * Today: what is open on this phone, this driver's runs, the yards to start from without one, what
 * was picked up and delivered lately. One thing on it is the next: it alone is yellow.
 */
import { useState } from "preact/hooks";
import type { Snapshot } from "../../bridge/snapshot";
import { toHandOver } from "../../domain/asked";
import { dayOf } from "../../domain/promise";
import type { Delivery, Pickup, Yard } from "../../domain/rows";
import type { RunNow } from "../../domain/run";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { LeftHere } from "../lock/LeftHere";
import { LaterRun, RunList } from "../road/RunList";
import { growsBy, runsNow, startPickup, truckCount, truckOf } from "../road/road";
import { go } from "../route";
import { countsSaid } from "../seen/visitLines";
import { testid } from "../testids";
import { when, words } from "../words";
import { BulkWork } from "./bulk/BulkWork";
import { openDeliveries, openVisits, unloadKey, yardName } from "./visits";

interface Open {
  id: string;
  to: string[];
  title: string;
  said: string;
}

/** What was begun on this phone and is not finished: a pickup, a delivery, an unloading. */
function openHere(now: Snapshot): Open[] {
  const w = words.value;
  const unloading = now.drafts.some((draft) => draft.key === unloadKey(now.person));
  return [
    ...openDeliveries(now).map(({ id, yard, count }) => ({
      id,
      to: ["delivery", id],
      title: yardName(now, yard),
      said: w.road_delivered(count),
    })),
    ...openVisits(now).map(({ id, yard, count, lines, draft }) => ({
      id,
      to: ["pickup", id],
      title: yardName(now, yard),
      said: [w.on_this_pickup(count), countsSaid(lines, w), draft ? w.sheet_kept : ""]
        .filter((one) => one !== "")
        .join(" · "),
    })),
    ...(unloading
      ? [{ id: "unload", to: ["unload"], title: w.road_unload_title, said: w.road_unload_open }]
      : []),
  ];
}

export function TodayScreen() {
  const w = words.value;
  const phone = usePhone();
  const now = phone.now.value;
  const open = openHere(now);
  const clockMs = phone.deps.clock.now();
  const today = dayOf(clockMs);
  const runs = runsNow(now, clockMs);
  // A later day's truck may be loaded the evening before, but not driven.
  const due = ({ run, next }: RunNow) => next !== null && (run.on <= today || next === "loading");
  const ahead = open.length > 0 ? null : (runs.find(due) ?? null);
  const aboard = truckCount(now);
  const unloads = aboard > 0 && open.length === 0 && ahead === null;
  return (
    <div class="page stack">
      <h1 tabIndex={-1}>{w.today}</h1>
      <LeftHere />
      {open.length > 0 && (
        <section>
          <h2>{w.open_pickups}</h2>
          <ul class="lines">
            {open.map(({ id, to, title, said }, i) => (
              <li key={id}>
                <button
                  type="button"
                  class={`line big${i === 0 ? " next" : ""}`}
                  onClick={() => go(...to)}
                  {...testid(`open-${id}`)}
                >
                  <span>
                    <b>{title}</b>
                    <br />
                    {said}
                  </span>
                  <span class="go">{w.carry_on}</span>
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
      {runs.map((run) =>
        run.run.on <= today || run === ahead ? (
          <RunList key={run.run.id} of={run} next={run === ahead} />
        ) : (
          <LaterRun key={run.run.id} of={run} />
        ),
      )}
      {runs.length === 0 && <p class="soft">{w.road_no_run}</p>}
      {aboard > 0 && now.shut === null && (
        <section class="stack">
          <h2>{w.road_on_truck(aboard)}</h2>
          <button
            type="button"
            class={unloads ? "button primary" : "button wide"}
            onClick={() => go("unload")}
            {...testid("unload")}
          >
            {w.road_unload_do}
          </button>
        </section>
      )}
      <BulkWork />
      {now.shut === null ? (
        <Start planned={runs.length > 0} />
      ) : (
        <p class="notice">{w.shut_start}</p>
      )}
      <Lately now={now} open={open.map((visit) => visit.id)} />
    </div>
  );
}

/** Any yard, planned or not. */
function Start({ planned }: { planned: boolean }) {
  const phone = usePhone();
  const w = words.value;
  const now = phone.now.value;
  const [search, setSearch] = useState("");
  const asked = search.trim().toLocaleLowerCase();
  const found = now.yards.filter((yard) =>
    `${yard.name} ${yard.customer_name} ${yard.address}`.toLocaleLowerCase().includes(asked),
  );

  async function start(yard: Yard) {
    // With something on the truck for it there are two things that can be meant.
    const { casings } = toHandOver(truckOf(now).casings, yard.id, []);
    // A yard that today's run does not name becomes a stop of it: said before it is begun.
    const grows = growsBy(now, phone.deps.clock.now(), yard.id) !== null;
    if (casings.length > 0 || grows) return go("yard", yard.id);
    await startPickup(phone, yard.id);
  }

  return (
    <section class="stack">
      <h2>{planned ? w.road_unplanned : w.start_title}</h2>
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
  const lately = [
    ...now.pickups.map((visit) => ({ visit, to: ["pickup", visit.id, "receipt"] })),
    ...now.deliveries.map((visit) => ({ visit, to: ["delivery", visit.id, "done"] })),
  ]
    .filter(({ visit }) => !open.includes(visit.id))
    .sort((a, b) => (a.visit.last_at < b.visit.last_at ? 1 : -1))
    .slice(0, 10);
  return (
    <section>
      <h2>{w.recent_title}</h2>
      {lately.length === 0 && <p class="soft">{w.recent_none}</p>}
      <ul class="lines">
        {lately.map(({ visit, to }) => (
          <li key={visit.id}>
            <button
              type="button"
              class="line"
              onClick={() => go(...to)}
              {...testid(`recent-${visit.id}`)}
            >
              <span>
                <b>{yardName(now, visit.yard)}</b>
                <br />
                {"customer_count" in visit ? taken(visit) : w.road_delivered(visit.count)} ·{" "}
                {stands(visit)}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Casings, and what else was counted; of these alone where there is no casing. */
function taken({ count, lines, trailer }: Pickup): string {
  const w = words.value;
  if (trailer !== null && count === 0) return w.trailer(trailer.number);
  const others = countsSaid(lines, w);
  if (others === "") return w.casings(count);
  return count > 0 ? `${w.casings(count)}, ${others}` : others;
}

/** When it was finished, and what of it the office does not have yet. */
function stands(visit: Pickup | Delivery): string {
  const w = words.value;
  const at = visit.finished_at === null ? w.not_finished : w.finished_at(when(visit.finished_at));
  if (visit.standing === "recorded") return at;
  const said = { waiting: w.waiting_to_send, in_question: w.question_open, needs_you: w.needs_you };
  return `${at} · ${said[visit.standing]}`;
}
