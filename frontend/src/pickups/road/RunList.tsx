/**
 * A run as a list in order, a line a stop; what is next stands large, with the one action that it
 * needs now. Nothing here moves or asks by itself.
 */
import type { Phone } from "../../bridge/phone";
import { dayOf } from "../../domain/promise";
import type { Run } from "../../domain/rows";
import { type RunNow, type StopNow, windowMissed } from "../../domain/run";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { when, words } from "../words";
import { openDeliveries, openVisits } from "../yard/visits";
import { siteName, startDelivery, startPickup } from "./road";
import { Arrival } from "./Arrival";
import {
  addedSaid,
  dropSaid,
  endSaid,
  fetchSaid,
  missedSaid,
  needSaid,
  placeName,
  runSaid,
  windowSaid,
} from "./stopWords";
import { WayLinks } from "./Ways";

/** `now`: this run holds the next action of the screen; else its next stop is large, not yellow. */
export function RunList({ of, next }: { of: RunNow; next: boolean }) {
  const phone = usePhone();
  const { run, stops } = of;
  const { title, sum } = runSaid(of, dayOf(phone.deps.clock.now()));
  const loads = of.loading.wanted.length > 0 || of.loading.open;
  return (
    <section class="run" {...testid(`run-${run.id}`)}>
      <h2>{title}</h2>
      <p class="soft">{sum}</p>
      {run.note !== "" && <p class="told">{run.note}</p>}
      <ol class="lines">
        {(loads || of.loading.over) && <LoadingLine of={of} next={next} />}
        {stops.map((stop) => (
          <StopLine
            key={stop.stop.uid}
            run={run}
            stop={stop}
            next={next}
            loaded={of.loading.over}
          />
        ))}
      </ol>
    </section>
  );
}

/** A run of another day: there, and out of the way. */
export function LaterRun({ of }: { of: RunNow }) {
  const now = usePhone().now.value;
  const { title, sum } = runSaid(of, "");
  return (
    <details class="run" {...testid(`run-${of.run.id}`)}>
      <summary>
        {title}: {sum}
      </summary>
      <ol class="lines">
        {of.stops.map((stop) => (
          <li key={stop.stop.uid}>
            <button type="button" class="line" onClick={() => go("stop", of.run.id, stop.stop.uid)}>
              <span class="number">{stop.number}</span>
              <span class="grow">{placeName(now, stop.stop)}</span>
            </button>
          </li>
        ))}
      </ol>
    </details>
  );
}

function LoadingLine({ of, next }: { of: RunNow; next: boolean }) {
  const now = usePhone().now.value;
  const w = words.value;
  const { run, loading } = of;
  const { wanted, open, over } = loading;
  if (wanted.length === 0 && !open) return null;
  const loaded = wanted.filter((one) => one.loaded).length;
  const place = siteName(now, run.start);
  const said = open ? w.road_on_transfer : w.road_loaded_of(loaded, wanted.length);
  const load = () => go("run", run.id, "load");
  if (of.next !== "loading")
    return (
      <li>
        <button type="button" class="line" onClick={load} {...testid(`loading-${run.id}`)}>
          <span class="number" />
          <span class="grow">
            {w.road_load_at(place)}
            <br />
            <span class={over ? "good" : "soft"}>{over ? w.road_done : said}</span>
          </span>
        </button>
      </li>
    );
  return (
    <li class="stop-next" {...testid(`loading-${run.id}`)}>
      <h3>{w.road_load_at(place)}</h3>
      {(open || loaded > 0) && <p class="count">{said}</p>}
      <button
        type="button"
        class={next ? "button primary" : "button wide"}
        onClick={load}
        {...testid("next-action")}
      >
        {w.road_load_do}
      </button>
    </li>
  );
}

function StopLine(props: { run: Run; stop: StopNow; next: boolean; loaded: boolean }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const { run, stop, loaded } = props;
  const name = placeName(now, stop.stop);
  const end = endSaid(stop);
  const open = () => go("stop", run.id, stop.stop.uid);
  const missed = windowMissed(run, stop, phone.deps.clock.now()) ? missedSaid(stop) : null;
  const { arrived_at } = stop.stop;
  const facts = [
    addedSaid(stop.stop),
    missed ?? windowSaid(stop.stop),
    dropSaid(stop, loaded),
    fetchSaid(stop),
    arrived_at !== null && w.day_arrived(when(arrived_at)),
  ].filter((fact) => typeof fact === "string");
  if (stop.state !== "next")
    return (
      <li data-state={stop.state} {...testid(`stop-${stop.stop.uid}`)}>
        <button type="button" class="line" onClick={open}>
          <span class="number">{stop.number}</span>
          <span class="grow">
            <b>{name}</b>
            <br />
            {end !== null ? (
              <span class={end.good ? "good" : "asks"}>{end.text}</span>
            ) : (
              <span>{facts.join(" · ")}</span>
            )}
          </span>
          <span class="more" aria-hidden="true">
            ›
          </span>
        </button>
      </li>
    );
  return (
    <li class="stop-next" data-state="next" {...testid(`stop-${stop.stop.uid}`)}>
      <button type="button" class="line" onClick={open}>
        <h3 class="grow">
          {stop.number} · {name}
        </h3>
        <span class="more" aria-hidden="true">
          ›
        </span>
      </button>
      <p>
        {facts.map((fact) => (
          <span key={fact} class={fact === missed ? "fact asks" : "fact"}>
            {fact}
          </span>
        ))}
      </p>
      {stop.stop.note !== "" && <p class="told">{stop.stop.note}</p>}
      <Action run={run} stop={stop} primary={props.next} />
      {arrived_at === null && <Arrival run={run} stop={stop} />}
      {stop.stop.yard !== null && <WayLinks yard={stop.stop.yard} />}
    </li>
  );
}

/** What a stop needs now, begun with one touch; what is begun already is carried on with. */
export function Action(props: { run: Run; stop: StopNow; primary: boolean }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const { run, stop } = props;
  if (now.shut !== null || stop.need === "none") return null;
  const { yard } = stop.stop;
  const begun =
    (stop.need === "deliver" && openDeliveries(now).some((one) => one.yard === yard)) ||
    (stop.need === "fetch" && openVisits(now).some((one) => one.yard === yard));
  return (
    <button
      type="button"
      class={props.primary ? "button primary" : "button wide"}
      onClick={() => void begin(phone, run, stop)}
      {...testid("next-action")}
    >
      {begun ? `${w.carry_on}: ${needSaid(stop)}` : needSaid(stop)}
    </button>
  );
}

async function begin(phone: Phone, run: Run, { need, stop }: StopNow): Promise<void> {
  const { yard, site, uid } = stop;
  if (need === "deliver" && yard !== null) await startDelivery(phone, yard, uid);
  if (need === "fetch" && yard !== null) await startPickup(phone, yard, uid);
  if (need === "unload" && site !== null) go("unload", site);
  if (need === "load") go("run", run.id, "load", uid);
}
