/**
 * The sign of a casing's way: five upright crayon strokes, slightly uneven. Picked up, at the
 * plant, worked on, finished, back with its owner. Done strokes are full, the one now is broad and
 * long, those to come are short outlines. Rejected: a bar across. On hold: the stroke now is
 * split. An open question: a ring around. The word always stands beside it.
 */

export type Stage = "picked_up" | "received" | "in_work" | "finished" | "shipped" | "returned";

const PLACE: Record<string, number> = {
  picked_up: 0,
  received: 1,
  in_work: 2,
  rejected: 2,
  finished: 3,
  shipped: 3,
  returned: 4,
};

/** Each stroke leans and wavers a little differently, as a hand draws. */
const LEAN = [1.2, -0.8, 0.6, 1.4, -1.1];
const STEP = 17;

export function Strokes(props: {
  stage: string;
  held?: boolean;
  inQuestion?: boolean;
}): preact.JSX.Element {
  const now = PLACE[props.stage] ?? 0;
  const rejected = props.stage === "rejected";
  return (
    <svg class="strokes" viewBox="-4 0 104 64" aria-hidden="true" focusable="false">
      {LEAN.map((lean, i) => (
        <Stroke
          key={lean}
          x={14 + i * STEP}
          lean={lean}
          kind={kindOf(i, now)}
          split={props.held === true}
        />
      ))}
      {rejected && (
        <path
          d="M2 50 C30 40 62 26 96 12"
          fill="none"
          stroke="currentColor"
          stroke-width="9"
          stroke-linecap="round"
        />
      )}
      {props.inQuestion === true && (
        <ellipse
          cx="48"
          cy="32"
          rx="48"
          ry="29.5"
          fill="none"
          stroke="currentColor"
          stroke-width="4"
        />
      )}
    </svg>
  );
}

type Kind = "done" | "now" | "to_come";

const kindOf = (i: number, now: number): Kind => (i < now ? "done" : i === now ? "now" : "to_come");

function Stroke(props: { x: number; lean: number; kind: Kind; split: boolean }) {
  const { x, lean, kind } = props;
  if (kind === "to_come") {
    return (
      <rect
        x={x - 4}
        y="23"
        width="8"
        height="21"
        rx="4"
        fill="none"
        stroke="currentColor"
        stroke-width="2.5"
        transform={`rotate(${lean * 2} ${x} 34)`}
      />
    );
  }
  const [top, foot, width] = kind === "now" ? [5, 59, 12] : [15, 50, 7];
  const whole = waver(x, lean, top, foot);
  if (kind === "now" && props.split) {
    return (
      <g fill="none" stroke="currentColor" stroke-width={width} stroke-linecap="butt">
        <path d={waver(x - 1.5, lean, top, 26)} />
        <path d={waver(x + 1.5, lean, 38, foot)} />
      </g>
    );
  }
  return (
    <path d={whole} fill="none" stroke="currentColor" stroke-width={width} stroke-linecap="round" />
  );
}

const waver = (x: number, lean: number, top: number, foot: number): string =>
  `M${x + lean} ${top} C${x - lean} ${top + (foot - top) / 3} ${x + lean * 1.6} ${foot - (foot - top) / 3} ${x - lean} ${foot}`;
