/**
 * Loading by scan: what the sheet wants, the last stop first, since it goes in first. Each scan is
 * told at once; who drives off with fewer is told which are missing. Without a load sheet, or with
 * one that names nothing, what stands at the place is meant.
 */
import { useState } from "preact/hooks";
import type { Snapshot } from "../../bridge/snapshot";
import { atLoading } from "../../domain/asked";
import { shown } from "../../domain/labels";
import type { Casing, Run } from "../../domain/rows";
import { BLANK_LOAD_COUNT, type LoadCount, loadTold, takenOn } from "../../domain/loadCount";
import { type Loading, loadingAt, standingAt, type Wanted } from "../../domain/run";
import { type CountLoad, countLoad } from "../../domain/runTelling";
import { holderAt, isRejected, lastMoveOf, wayFrom } from "../../domain/truck";
import { Bar } from "../../ui/Bar";
import { usePhone } from "../context";
import { goFrom, route } from "../route";
import { testid } from "../testids";
import { words } from "../words";
import { Unsaved } from "../Unsaved";
import { type Sheet, useSheet } from "../yard/draft";
import { CasingLine, named } from "./CasingLine";
import { cautionOf, questionOf } from "./doubts";
import { LoadCounting, loadKey } from "./LoadCounting";
import { me, roadOf, runOf, siteName, tellHandOver, truckOf } from "./road";
import { type Heard, Scanning } from "./Scanning";
import { Back, ScanTop, ShutNotice } from "./Top";
import type { Said } from "./Verdict";
import { Standing, shortSaid, WantedList } from "./WantedList";

interface Place {
  site: string;
  run: Run | null;
  /** The stop of the run at which it is loaded on the way; null at its start. */
  stop: string | null;
  loading: Loading;
}

/** `stop`: a stop of the run at which it is loaded on the way; else at its start. */
export function LoadScreen(props: { run: string; stop: string }) {
  const now = usePhone().now.value;
  const place = placeOf(now, props.run, props.stop);
  if (place === null) return <Gone />;
  return <CountThenLoad key={place.stop ?? props.run} at={place} />;
}

/** Loading at a site without a load sheet. */
export function LoadAtScreen({ site }: { site: string }) {
  const loading = { wanted: [], open: true, over: false };
  return <CountThenLoad key={site} at={{ site, run: null, stop: null, loading }} />;
}

function CountThenLoad({ at }: { at: Place }) {
  const { person } = usePhone().now.value;
  const key = loadKey(person, at.stop ?? at.run?.id ?? at.site);
  const sheet = useSheet<LoadCount>(key, BLANK_LOAD_COUNT);
  if (!sheet.ready) return null;
  if (!sheet.fields.began) return <LoadCounting sheet={sheet} site={at.site} />;
  return <Load at={at} sheet={sheet} />;
}

function placeOf(now: Snapshot, id: string, uid: string): Place | null {
  const found = runOf(now, id);
  if (found === null) return null;
  const { run } = found;
  const i = run.stops.findIndex((stop) => stop.uid === uid);
  const site = i < 0 ? run.start : run.stops[i]!.site;
  if (site === null) return null;
  return { site, run, stop: i < 0 ? null : uid, loading: loadingAt(run, i, roadOf(now)) };
}

function Load({ at: here, sheet }: { at: Place; sheet: Sheet<LoadCount> }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const [asks, setAsks] = useState(false);
  const [leaving, setLeaving] = useState(false);
  const [trusts, setTrusts] = useState(false);
  const [failed, setFailed] = useState(false);
  const { site, run, loading } = here;
  const place = holderAt(now.sites, site);
  const { wanted, open } = loading;
  const loaded = wanted.filter((one) => one.loaded).length;
  const short = wanted.filter((one) => !one.loaded);
  const ids = new Set(wanted.map((one) => one.id));
  const truck = truckOf(now);
  // What was on the truck before, or was taken along all the same.
  const others = truck.casings.filter((casing) => !ids.has(casing.id));
  const there = open ? standingAt(now.casings.values(), place) : [];
  const all = truck.casings.length + truck.unknown.length;
  const on = open ? w.road_on_truck(all) : w.road_loaded_of(loaded, wanted.length);
  const counted = Number(sheet.fields.count);
  const count = `${on}, ${w.day_loading(counted)}`;
  const scanned = takenOn(roadOf(now), place, sheet.fields.after);
  const told = loadTold(
    { site, run: run?.id ?? null, stop: here.stop },
    counted,
    scanned,
    open ? null : wanted,
  );
  const differs = counted !== scanned.length;
  const odd = short.length > 0 || differs || told.over.length > 0;
  const rejected = short.filter(({ casing }) => casing !== null && isRejected(casing)).length;

  async function scan(label: string): Promise<Heard> {
    const at = phone.now.value;
    const judged = atLoading(
      label,
      { casings: at.casings.values(), me: at.person ?? "", place },
      open ? null : ids,
    );
    const { casing } = judged;
    if (judged.what === "again")
      return { said: { tone: "again", text: w.road_loaded_already(shown(label)) } };
    const take = () => tell(label, casing, place);
    const onlyUnknown = casing === null && trusts;
    if (judged.what === "take" || onlyUnknown) return { said: await take() };
    const texts = { no: w.road_leave_it, yes: w.road_load_anyway, left: w.road_left_here };
    return {
      question: questionOf(at, label, judged, texts, async () => {
        // Who knows of no casing asks once, not forty times.
        if (casing === null) setTrusts(true);
        return await take();
      }),
    };
  }

  async function tell(label: string, casing: Casing | null, giver: string): Promise<Said> {
    setLeaving(false);
    const { moves } = phone.now.value;
    // Of a casing that is not known here: a transfer takes it to a plant, a route to its owner.
    const guess = run?.kind === "transfer" ? "in" : "out";
    const way = wayFrom(giver, casing, lastMoveOf(moves, label), guess);
    await tellHandOver(phone, { label, way, giver, taker: me(phone.now.value) });
    const stop = wanted.find((one) => one.id === casing?.id)?.stop;
    return {
      tone: "good",
      text: stop
        ? w.road_loaded_for(shown(label), stop)
        : casing
          ? w.road_loaded(shown(label))
          : w.road_loaded_unknown(shown(label)),
      caution: cautionOf(casing) && w.road_tag_rejected,
    };
  }

  async function driveOff() {
    if (odd && !leaving) return setLeaving(true);
    const from = route.value;
    try {
      await sheet.enter(countLoad(told), []);
      goFrom(from);
    } catch {
      setFailed(true);
    }
  }

  const complete = !open && short.length === 0;
  return (
    <div class="page scan-page">
      <ScanTop title={w.road_load_title(siteName(now, site))} count={count} />
      {!asks && <p class="caution">{w.caution_lift}</p>}
      {!asks && rejected > 0 && (
        <p class="caution rejected" {...testid("tag-before")}>
          {w.day_tag_before(rejected)}
        </p>
      )}
      {now.shut !== null ? (
        <ShutNotice />
      ) : (
        <Scanning
          onScan={scan}
          count={count}
          next={!complete && !leaving}
          take={w.road_load_do_one}
          onAsks={setAsks}
        />
      )}
      {run !== null && !open && <WantedList run={run} wanted={wanted} place={place} />}
      {open && (
        <Standing casings={there} title={w.road_standing(siteName(now, site), there.length)} />
      )}
      {others.length > 0 && !open && (
        <section>
          <h2>{w.road_others(others.length)}</h2>
          <ul class="lines">
            {others.map((casing) => (
              <CasingLine key={casing.id} label={casing.label} casing={casing} done />
            ))}
          </ul>
        </section>
      )}
      {!asks && (
        <Bar>
          <div role="alert" {...testid("short")}>
            {leaving && <Odd told={told} short={short} />}
          </div>
          <Unsaved when={failed} />
          <button
            type="button"
            class={complete || leaving ? "button primary" : "button wide"}
            onClick={() => void driveOff()}
            {...testid("drive-off")}
          >
            {leaving
              ? short.length > 0
                ? w.road_drive_off_short
                : w.day_drive_off_so
              : open
                ? w.road_load_done
                : w.road_drive_off(loaded, wanted.length)}
          </button>
        </Bar>
      )}
    </div>
  );
}

/** What is short and over, each by its label, and what to do about it. */
function Odd({ told, short }: { told: CountLoad; short: Wanted[] }) {
  const w = words.value;
  return (
    <>
      {short.length > 0 && (
        <p class="asks">
          {shortSaid(short)} {w.day_short_do}
        </p>
      )}
      {told.over.length > 0 && (
        <p class="asks" {...testid("over")}>
          {w.day_over(told.over.length, named(told.over))} {w.day_over_do(told.over.length)}
        </p>
      )}
      {told.counted !== told.scanned.length && (
        <p class="asks" {...testid("count-differs")}>
          {w.day_counted_scanned(told.counted, told.scanned.length)}
        </p>
      )}
    </>
  );
}

/** The office has taken the sheet back, or it is another driver's. */
function Gone() {
  return (
    <div class="page stack">
      <Back />
      <h1 tabIndex={-1}>{words.value.road_run_gone}</h1>
    </div>
  );
}
