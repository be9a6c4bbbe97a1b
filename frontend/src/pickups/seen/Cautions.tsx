/** What has to be said before a hand is laid on it: in large words, where the hand is. */
import { isStop } from "../../domain/condition";
import type { Finding } from "../../domain/operation";
import { testid } from "../testids";
import { words } from "../words";
import { cautionsSaid, OF_A_STOP } from "./findings";

export function Cautions(props: {
  findings: Finding[];
  /** Another finding is in hand, which asks for none. */
  aside?: boolean;
}) {
  const { findings, aside = false } = props;
  const w = words.value;
  const stops = findings.filter(({ kind }) => isStop(kind));
  const stopped = stops.length > 0;
  const said = cautionsSaid(findings);
  const kinds = [...new Set(stops.map(({ kind }) => w.kinds[kind]))].join(", ");
  // Always there, so that its words are read out when they come.
  return (
    <div
      role="alert"
      class={said.length === 0 ? "" : aside ? "stop aside" : "stop"}
      {...testid("cautions")}
    >
      {stopped && (
        <p class="stop-head">
          <StopSign /> {w.caution_stop}: {kinds}
        </p>
      )}
      {said.map((caution, i) => (
        <p key={caution} class={stopped && i < OF_A_STOP.length ? "stop-large" : ""}>
          {w.cautions[caution]}
        </p>
      ))}
      {stopped && (
        <p>
          {w.caution_demount} {w.caution_help} {w.caution_fleet}
        </p>
      )}
    </div>
  );
}

function StopSign() {
  return (
    <svg class="sign" viewBox="0 0 32 32" aria-hidden="true" focusable="false">
      <path d="M10 2 H22 L30 10 V22 L22 30 H10 L2 22 V10 Z" fill="currentColor" />
      <path d="M9 16 H23" stroke="var(--paper)" stroke-width="5" />
    </svg>
  );
}
