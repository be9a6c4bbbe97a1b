/**
 * What was found, drawn on a cut through a tire: what earlier stations noted, and what is noted
 * here. Three taps: where on the drawing, what it is, how large. Numbers on the drawing are those
 * of the list beside it, which says each in words.
 */
import { useState } from "preact/hooks";
import { takePhoto } from "../../bridge/takePhoto";
import { isStop, KINDS_BY_ZONE } from "../../domain/condition";
import type { Condition } from "../../domain/operation";
import { placeSaid } from "../../pickups/seen/findings";
import { Section } from "../../pickups/seen/Section";
import { keyOf, type Place } from "../../pickups/seen/section";
import { testid } from "../../pickups/testids";
import { spoken, when, words } from "../../pickups/words";
import type { Sheet } from "../../pickups/yard/draft";
import { MOST_PHOTOS } from "../../pickups/yard/fields";
import type { AnswerFields, Find } from "../answer";
import { findSaid, findsAfter, photosOff } from "../findings";
import type { Floor } from "../floor";
import { useInSight } from "../inSight";
import type { FoundBefore, Route, Work } from "../rows";
import { stationName } from "../stations";
import { floorWords } from "../words";
import { FindDetail } from "./FindDetail";

/** What the wire takes of findings at one station. */
const MOST = 50;

export function Finds(props: {
  floor: Floor;
  work: Work;
  sheet: Sheet<AnswerFields>;
  fill: (some: Partial<AnswerFields> | ((now: AnswerFields) => Partial<AnswerFields>)) => void;
  busy: boolean;
  onBusy: (begins: boolean) => void;
}) {
  const { floor, work, sheet, fill, onBusy } = props;
  const w = floorWords.value;
  const [place, setPlace] = useState<Place | null>(null);
  /** The finding in hand, by its place in the list of those noted here. */
  const [at, setAt] = useState<number | null>(null);
  const { findings } = sheet.fields;
  const open = work.findings.filter((one) => !one.done);
  const done = work.findings.length - open.length;
  const all = [...open, ...findings];
  const inHand = at === null ? undefined : findings[at];

  function noted(kind: string) {
    if (place === null) return;
    const one: Find = { ...place, kind, size_mm: null, count: 1, photos: [] };
    fill((now) => ({ findings: [...now.findings, one] }));
    setAt(findings.length);
    setPlace(null);
  }
  const change = (i: number, some: Partial<Find>) =>
    fill((now) => ({
      findings: now.findings.map((one, n) => (n === i ? { ...one, ...some } : one)),
    }));

  async function photo(i: number, file: File) {
    onBusy(true);
    try {
      const blob = await takePhoto(floor.phone, file, sheet.addPhoto);
      const sha256 = await floor.phone.camera.hash(blob);
      fill((now) => ({
        findings: now.findings.map((one, n) =>
          n === i ? { ...one, photos: [...new Set([...one.photos, sha256])] } : one,
        ),
      }));
    } finally {
      onBusy(false);
    }
  }

  return (
    <section class="finds">
      <h2>{w.finds_title}</h2>
      <p class="soft" id="finds-say">
        {findings.length >= MOST ? w.finds_full : w.finds_say}
      </p>
      <Section
        findings={all}
        place={place ?? inHand ?? null}
        onPlace={(one) => {
          if (findings.length >= MOST) return;
          setAt(null);
          setPlace(one);
        }}
      />
      {place !== null && <Kinds place={place} onKind={noted} onNone={() => setPlace(null)} />}
      {inHand !== undefined && at !== null && (
        <FindDetail
          key={at}
          number={open.length + at + 1}
          find={inHand}
          floor={floor}
          size={work.wanted?.size ?? ""}
          busy={props.busy}
          full={sheet.photos.length >= MOST_PHOTOS}
          onChange={(some) => change(at, some)}
          onPhoto={(file) => photo(at, file)}
          onDone={() => setAt(null)}
          onOff={() => {
            const gone = photosOff(findings, at);
            fill((now) => ({ findings: findsAfter(now.findings, at) }));
            for (const sha256 of gone) void sheet.dropPhoto(sha256);
            setAt(null);
          }}
        />
      )}
      <List
        before={open}
        route={floor.route}
        here={findings}
        onChange={(i) => {
          setPlace(null);
          setAt(i);
        }}
      />
      {done > 0 && <p class="soft">{w.finds_done(done)}</p>}
    </section>
  );
}

/** The second tap: what it is, of what can be there. */
function Kinds(props: { place: Place; onKind: (kind: string) => void; onNone: () => void }) {
  const w = words.value;
  const { place } = props;
  const ref = useInSight<HTMLFieldSetElement>(keyOf(place));
  return (
    <fieldset ref={ref} class="kinds" {...testid("kinds")}>
      <legend>{w.condition_what(placeSaid(place, w))}</legend>
      {KINDS_BY_ZONE[place.zone].map((kind) => (
        <button
          key={kind}
          type="button"
          class={isStop(kind) ? "button stops" : "button"}
          onClick={() => props.onKind(kind)}
          {...testid(`kind-${kind}`)}
        >
          {w.kinds[kind]}
          {isStop(kind) && <span class="soft">{w.kind_stops}</span>}
        </button>
      ))}
      <button type="button" class="button" onClick={props.onNone} {...testid("kind-none")}>
        {floorWords.value.leave_it}
      </button>
    </fieldset>
  );
}

/** The words beside the drawing, with the numbers that stand on it. */
function List(props: {
  before: FoundBefore[];
  here: Find[];
  route: Route | null;
  onChange: (i: number) => void;
}) {
  const w = floorWords.value;
  const { before, here } = props;
  if (before.length + here.length === 0) return <p>{w.finds_none}</p>;
  return (
    <ol class="lines noted" {...testid("findings")}>
      {before.map((one, i) => (
        <li key={`${one.event} ${i}`} data-stop={isStop(one.kind as Condition)}>
          <span class="number">{i + 1}.</span>
          <span class="what">
            {findSaid(one)}
            {one.action !== "" && ` · ${one.action}`}
            <span class="soft">
              {" "}
              {w.found_at(stationName(one.station, props.route, spoken.value), when(one.at))}
              {one.photos.length > 0 && ` · ${words.value.photos(one.photos.length)}`}
            </span>
          </span>
        </li>
      ))}
      {here.map((one, i) => (
        <li key={`here ${i}`} data-stop={isStop(one.kind as Condition)}>
          <span class="number">{before.length + i + 1}.</span>
          <span class="what">
            {findSaid(one)}
            <span class="soft"> {w.found_now}</span>
          </span>
          <button
            type="button"
            class="button change"
            aria-label={w.change_find(findSaid(one))}
            onClick={() => props.onChange(i)}
            {...testid(`find-${i + 1}`)}
          >
            {words.value.condition_change}
          </button>
        </li>
      ))}
    </ol>
  );
}
