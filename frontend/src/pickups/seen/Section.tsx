/**
 * A cut through a truck tire, drawn by us: what is tapped on it is a zone and a side. Over the
 * lines lie plain keys, in the order in which they are read, each with its name in sight; where
 * there is no room for a drawing with keys on it, the keys stand below it.
 */
import type { Condition, Zone } from "../../domain/operation";
import { isStop } from "../../domain/condition";
import { testid } from "../testids";
import { words } from "../words";
import { alikeAt, placeSaid } from "./findings";
import {
  HEIGHT,
  isAt,
  keyOf,
  MIRROR,
  OUTLINES,
  type Place,
  PLACES,
  spotsOf,
  WIDTH,
} from "./section";

/** Something found there; its kind may be one that only a plant tells of. */
export interface Marked extends Place {
  kind: string;
}

export function Section(props: {
  findings: Marked[];
  place: Place | null;
  onPlace: (place: Place) => void;
}) {
  const { findings, place, onPlace } = props;
  const w = words.value;
  return (
    <div class="section-frame">
      <p class="section-sides" aria-hidden="true">
        <span>{w.side_serial_mark}</span>
        <span>{w.side_other_mark}</span>
      </p>
      <div class="section">
        <Lines findings={findings} place={place} />
        <ul class="section-keys">
          {PLACES.map((one) => {
            const n = alikeAt(findings, one);
            const said = placeSaid(one, w);
            return (
              <li key={keyOf(one)} class={`at-${keyOf(one)}`}>
                <button
                  type="button"
                  aria-label={n === 0 ? said : w.condition_zone_pressed(said, n)}
                  aria-pressed={place !== null && isAt(place, one)}
                  onClick={() => onPlace(one)}
                  {...testid(`zone-${keyOf(one)}`)}
                >
                  <span aria-hidden="true">{w.zones[one.zone]}</span>
                  {one.side !== "" && (
                    <span class="side" aria-hidden="true">
                      {w.sides[one.side]}
                    </span>
                  )}
                </button>
              </li>
            );
          })}
        </ul>
      </div>
    </div>
  );
}

function Lines({ findings, place }: { findings: Marked[]; place: Place | null }) {
  const spots = spotsOf(findings);
  return (
    <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true" focusable="false">
      <defs>
        <pattern
          id="section-chosen"
          width="7"
          height="7"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <rect class="ground" width="7" height="7" />
          <rect class="stripe" width="3" height="7" />
        </pattern>
      </defs>
      {PLACES.map((one) => (
        <Wall key={keyOf(one)} of={one} chosen={place !== null && isAt(place, one)} />
      ))}
      <Within />
      {findings.map((finding, i) => (
        <Mark
          key={`${i} ${finding.kind}`}
          n={i + 1}
          at={spots[i]!}
          stops={isStop(finding.kind as Condition)}
        />
      ))}
    </svg>
  );
}

function Wall({ of, chosen }: { of: Place; chosen: boolean }) {
  return (
    <path
      class={`zone ${of.zone === "inner_liner" ? "liner" : "wall"}`}
      data-chosen={chosen}
      d={OUTLINES[of.zone as Zone]}
      transform={of.side === "other" ? MIRROR : undefined}
    />
  );
}

/** What makes it a tire: grooves, belts, the ply round the bead wires, the mark on its side. */
function Within() {
  return (
    <g class="within">
      {[138, 156, 172, 190].map((x) => (
        <rect key={x} class="groove" x={x - 3} y="28" width="6" height="17" rx="2" />
      ))}
      <path d="M108 60 Q164 52 220 60 M116 67 Q164 60 212 67" />
      {[undefined, MIRROR].map((side) => (
        <g key={side ?? "serial"} transform={side}>
          <path d="M126 73 C108 77 103 92 97 104 C81 130 81 156 101 186 C112 204 124 226 127 240" />
          {[
            [113, 231],
            [120, 231],
            [110, 237],
            [116.5, 237],
            [123, 237],
            [113, 243],
            [120, 243],
          ].map(([x, y]) => (
            <circle key={`${x} ${y}`} cx={x} cy={y} r="2.4" class="wire" />
          ))}
        </g>
      ))}
      <path class="serial" d="M66 126 h-9 v34 h9" />
    </g>
  );
}

/** A finding's number: in a ring, or in eight corners where it stops the casing. */
function Mark({ n, at, stops }: { n: number; at: { x: number; y: number }; stops: boolean }) {
  return (
    <g class="mark" transform={`translate(${at.x} ${at.y})`}>
      {stops ? <path d="M-6 -14 H6 L14 -6 V6 L6 14 H-6 L-14 6 V-6 Z" /> : <circle r="12.5" />}
      <text y="5.5">{n}</text>
    </g>
  );
}
