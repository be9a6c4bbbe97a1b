/**
 * Tread depths for one thumb, or for a keyboard: each press is a groove, the next one comes by
 * itself, and so does the next place round the tire where the number of grooves is known.
 */
import { useEffect, useRef, useState } from "preact/hooks";
import { DEEPEST_32NDS, type Position } from "../../domain/operation";
import type { Places } from "../../domain/tread";
import { testid } from "../testids";
import { words } from "../words";
import { TreadSaid, TreadSum } from "./TreadSaid";
import { SECOND_DIGIT_MS, treadTyping, type Typed } from "./treadTyping";
import { deeperBy, depthsSaid, nextOf, turnPlace, withoutLast, withReading } from "./treads";

const DEPTHS = Array.from({ length: DEEPEST_32NDS + 1 }, (_, depth) => depth);
const POSITIONS = ["steer", "drive", "trailer", "bus_front"] as const;
/** Where typed depths go; what comes before the treads leads here. */
export const TREADS = "treads";

export function TreadKeys(props: {
  places: Places;
  /** Given what was filled in last, which the screen may not have drawn yet. */
  onPlaces: (change: (latest: Places) => Places) => void;
  /** The grooves of a place, where they are known. */
  grooves: (latest: Places) => number | null;
  position: Position;
  onPosition: (position: Position) => void;
  pull: number | null;
  /** Enter: the sheet is to be saved. */
  onEnd: () => void;
}) {
  const { places, onPlaces, position, pull } = props;
  const w = words.value;
  const next = nextOf(places);
  const typing = useTyping(props);
  const none = places.every((place) => place.length === 0);
  const read = (depth: number | null) => {
    typing.rest();
    onPlaces((latest) => withReading(latest, depth, props.grooves(latest)));
  };
  const opened = places.length > 1 && next.groove === 1;

  return (
    <fieldset class="treads" onKeyDown={typing.onKeyDown} onFocusOut={typing.rest}>
      <legend>{w.tread}</legend>
      <fieldset class="small-keys four">
        <legend class="hidden">{w.position}</legend>
        {POSITIONS.map((one) => (
          <button
            key={one}
            type="button"
            class="button"
            aria-pressed={one === position}
            onClick={() => props.onPosition(one === position ? "" : one)}
            {...testid(`position-${one}`)}
          >
            {w.positions[one]}
          </button>
        ))}
      </fieldset>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a keyboard's digits go here */}
      <fieldset id={TREADS} class="readings" tabIndex={0}>
        <legend class="hidden">{w.tread_readings}</legend>
        <p aria-live="polite" {...testid("tread-readings")}>
          {none ? w.tread_none : <b>{depthsSaid(places)}</b>}
          <br />
          <span class="soft">
            {typing.waits !== ""
              ? w.tread_typed(typing.waits)
              : next.full
                ? w.tread_full
                : places.length > 1
                  ? w.tread_place(next.place, next.groove)
                  : w.tread_next(next.groove)}
          </span>
        </p>
        <TreadSum places={places} />
      </fieldset>
      <div class="keys">
        <button
          type="button"
          class="key word two"
          disabled={none}
          onClick={() => {
            typing.rest();
            onPlaces(withoutLast);
          }}
          {...testid("tread-erase")}
        >
          {w.tread_erase}
        </button>
        <button
          type="button"
          class="key word"
          disabled={next.full}
          aria-label={w.tread_unread_named}
          onClick={() => read(null)}
          {...testid("tread-unread")}
        >
          {w.tread_unread}
        </button>
        <button
          type="button"
          class="key word two"
          disabled={none}
          onClick={() => {
            typing.rest();
            onPlaces(turnPlace);
          }}
          {...testid("tread-turn")}
        >
          {opened ? w.tread_stay(places.length - 1) : w.tread_turn}
        </button>
        {DEPTHS.map((depth) => (
          <button
            key={depth}
            type="button"
            class="key"
            disabled={next.full}
            aria-label={`${w.tread_groove(next.groove)}: ${depth}`}
            onClick={() => read(depth)}
            {...testid(`tread-${depth}`)}
          >
            {depth}
          </button>
        ))}
      </div>
      <TreadSaid places={places} position={position} pull={pull} />
      <p class="soft with-keyboard">{w.tread_how}</p>
    </fieldset>
  );
}

/** Typed depths, the digit that waits for its second one, and the way back from a scanner's keys. */
function useTyping(props: {
  places: Places;
  onPlaces: (change: (latest: Places) => Places) => void;
  grooves: (latest: Places) => number | null;
  onEnd: () => void;
}) {
  const { onPlaces, grooves } = props;
  const typing = useRef(treadTyping()).current;
  const before = useRef<Places>([]);
  const [waits, setWaits] = useState("");

  function take(told: Typed[]) {
    for (const one of told) {
      if (one.told === "depth")
        onPlaces((latest) => withReading(latest, one.depth, grooves(latest)));
      else if (one.told === "ten_more") onPlaces((latest) => deeperBy(latest, 10));
      else if (one.told === "turn") onPlaces(turnPlace);
      else if (one.told === "back") onPlaces(withoutLast);
      else if (one.told === "scanner") onPlaces(() => before.current);
      // What was typed with it is drawn first.
      else setTimeout(props.onEnd);
    }
    setWaits(typing.waits());
  }

  useEffect(() => {
    if (waits === "") return;
    const pause = setTimeout(() => take(typing.rest()), SECOND_DIGIT_MS);
    return () => clearTimeout(pause);
  }, [waits]);

  return {
    waits,
    rest: () => take(typing.rest()),
    onKeyDown(event: KeyboardEvent) {
      const onKey = event.target instanceof HTMLButtonElement;
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      if (onKey && (event.key === "Enter" || event.key === " ")) return;
      const told = typing.key(event.key, event.timeStamp);
      if (typing.begins()) before.current = props.places;
      if (told === null) return;
      event.preventDefault();
      take(told);
      if (onKey && event.key.length === 1) document.getElementById(TREADS)?.focus();
    },
  };
}
