/** One casing in a list of the road: its label, its size, what a hand has to know, how it stands. */
import type { ComponentChildren } from "preact";
import { shown } from "../../domain/labels";
import type { Casing } from "../../domain/rows";
import { testid } from "../testids";
import { words } from "../words";
import { cautionOf } from "./doubts";
import { Caution } from "./Verdict";

export function CasingLine(props: {
  label: string;
  casing: Casing | null;
  done: boolean;
  /** A word below it, where something about it is not as one would think. */
  word?: ComponentChildren;
  /** Done without a scan: a key on the line itself. */
  onTick?: () => void;
}) {
  const w = words.value;
  const { casing, done } = props;
  const caution = cautionOf(casing);
  const waits = casing?.standing === "waiting";
  const needs = casing?.standing === "needs_you";
  return (
    <li
      class={done ? "carried is-done" : "carried"}
      data-done={done}
      data-standing={casing?.standing}
      {...testid(`road-${props.label}`)}
    >
      <span class="tick" aria-hidden="true">
        {done ? "✓" : "·"}
      </span>
      <span>
        <b class="code">{shown(props.label)}</b>
        {casing?.size && <span class="soft"> {casing.size}</span>}
      </span>
      {(needs || props.word) && (
        <span class={needs ? "fault word" : "word"}>{needs ? w.needs_you : props.word}</span>
      )}
      {waits && done && <span class="hidden">{w.waiting_to_send}</span>}
      {caution !== null && <Caution>{caution}</Caution>}
      {props.onTick !== undefined && (
        <button
          type="button"
          class="button tick-key"
          aria-label={w.day_tick_of(shown(props.label))}
          onClick={props.onTick}
          {...testid(`tick-${props.label}`)}
        >
          {w.day_tick}
        </button>
      )}
    </li>
  );
}

/** Labels in words: so many of them, then how many more. */
const NAMED = 6;
export function named(labels: string[]): string {
  const first = labels.slice(0, NAMED).map(shown).join(", ");
  return labels.length > NAMED ? words.value.road_and_more(first, labels.length - NAMED) : first;
}
