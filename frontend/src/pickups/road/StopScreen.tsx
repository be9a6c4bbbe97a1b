/** One stop: where it is, what is to be dropped and fetched, and what its driver can do there. */
import type { RunNow, StopNow } from "../../domain/run";
import { resume } from "../../domain/runTelling";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { Unsaved } from "../Unsaved";
import { words } from "../words";
import { CasingLine } from "./CasingLine";
import { placeSaid } from "./doubts";
import { Arrival } from "./Arrival";
import { SkipStop } from "./SkipStop";
import { WindowLine } from "./WindowLine";
import { useOnce } from "./once";
import { runOf, startDelivery, startPickup, tellOfStop } from "./road";
import { Action } from "./RunList";
import { addedSaid, endSaid, fetchSaid, placeName } from "./stopWords";
import { Back } from "./Top";
import { Ways } from "./Ways";

export function StopScreen({ run: id, stop: uid }: { run: string; stop: string }) {
  const now = usePhone().now.value;
  const of = runOf(now, id);
  const stop = of?.stops.find((one) => one.stop.uid === uid);
  if (of === null || stop === undefined)
    return (
      <div class="page stack">
        <Back />
        <h1 tabIndex={-1}>{words.value.road_run_gone}</h1>
      </div>
    );
  return <StopSheet of={of} stop={stop} />;
}

function StopSheet({ of, stop }: { of: RunNow; stop: StopNow }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const { yard, site, note } = stop.stop;
  const end = endSaid(stop);
  const open = stop.state === "next" || stop.state === "later";
  const { run: once, failed } = useOnce();
  return (
    <div class="page stack" {...testid("stop")}>
      <Back />
      <h1 tabIndex={-1}>
        {stop.number} · {placeName(now, stop.stop)}
      </h1>
      <WindowLine run={of.run} stop={stop} />
      {addedSaid(stop.stop) !== null && <p class="asks">{addedSaid(stop.stop)}</p>}
      {note !== "" && <p class="told">{note}</p>}
      {end !== null && <p class={end.good ? "good" : "asks"}>{end.text}</p>}
      {open && <Action run={of.run} stop={stop} primary />}
      <Arrival run={of.run} stop={stop} undo />
      {yard !== null && <Ways yard={yard} />}
      {stop.drops.length > 0 && <Drops stop={stop} />}
      {fetchSaid(stop) !== null && (
        <p class="count">
          <b>{fetchSaid(stop)}</b>
        </p>
      )}
      {yard !== null && now.shut === null && <Further yard={yard} stop={stop} open={open} />}
      {site !== null && now.shut === null && stop.need !== "unload" && (
        <button type="button" class="button wide" onClick={() => go("unload", site)}>
          {w.road_unload_do}
        </button>
      )}
      {site !== null && now.shut === null && stop.need !== "load" && (
        <button
          type="button"
          class="button wide"
          onClick={() => go("run", of.run.id, "load", stop.stop.uid)}
        >
          {w.road_load_do}
        </button>
      )}
      {open && now.shut === null && <SkipStop run={of.run.id} stop={stop.stop.uid} />}
      <Unsaved when={failed} />
      {stop.state === "passed" && now.shut === null && (
        <button
          type="button"
          class="button wide"
          onClick={() => void once(() => tellOfStop(phone, resume, of.run.id, stop.stop.uid))}
          {...testid("resume")}
        >
          {w.day_resume}
        </button>
      )}
    </div>
  );
}

function Drops({ stop }: { stop: StopNow }) {
  const now = usePhone().now.value;
  const w = words.value;
  const known = stop.drops.flatMap(({ casing, at }) => (casing === null ? [] : [{ casing, at }]));
  const unseen = stop.drops.length - known.length;
  return (
    <section>
      <h2>{w.road_drop(stop.drops.length)}</h2>
      <ul class="lines">
        {known.map(({ casing, at }) => (
          <CasingLine
            key={casing.id}
            label={casing.label}
            casing={casing}
            done={at === "done"}
            word={at === "away" && placeSaid(now, casing.holder)}
          />
        ))}
      </ul>
      {unseen > 0 && <p class="soft">{w.road_unseen(unseen)}</p>}
    </section>
  );
}

/** What can be done at a yard beside what the sheet asks for. */
function Further({ yard, stop, open }: { yard: string; stop: StopNow; open: boolean }) {
  const phone = usePhone();
  const w = words.value;
  const { run: once, failed } = useOnce();
  const fetches = open && stop.need === "fetch";
  const delivers = open && stop.need === "deliver";
  return (
    <div class="stack">
      <Unsaved when={failed} />
      {!delivers && (
        <button
          type="button"
          class="button wide"
          onClick={() => void once(() => startDelivery(phone, yard, stop.stop.uid))}
          {...testid("start-delivery")}
        >
          {w.road_deliver_start}
        </button>
      )}
      {!fetches && (
        <button
          type="button"
          class="button wide"
          onClick={() => void once(() => startPickup(phone, yard, stop.stop.uid))}
          {...testid("start-pickup")}
        >
          {w.start_title}
        </button>
      )}
    </div>
  );
}
