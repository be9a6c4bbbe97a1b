/**
 * What stands against it: holds, rejections, differences from the order; each with who may undo it.
 * What may never be released has no key.
 */
import { testid } from "../../pickups/testids";
import { reasonInWords } from "../../pickups/said";
import { spoken, when } from "../../pickups/words";
import type { Sheet } from "../../pickups/yard/draft";
import { differenceSaid } from "../against";
import type { AnswerFields } from "../answer";
import { type Floor, mayRelease } from "../floor";
import type { Route, Work } from "../rows";
import { Sign } from "../Sign";
import { stationName } from "../stations";
import { floorWords } from "../words";

interface Stands {
  event: string;
  sign: "rejected" | "hold" | "repair";
  title: string;
  lines: string[];
  /** It may be undone at all. */
  releasable: boolean;
}

export function Standing(props: {
  floor: Floor;
  work: Work;
  sheet: Sheet<AnswerFields>;
  fill: (some: Partial<AnswerFields>) => void;
}) {
  const { floor, work, sheet, fill } = props;
  const w = floorWords.value;
  const may = mayRelease(floor.phone);
  const all = stands(work, floor.route);
  if (all.length === 0) return null;
  return (
    <ul class="stands" {...testid("stands")}>
      {all.map((one, i) => (
        <li key={`${one.event} ${one.title}`} class={`stand ${one.sign}`}>
          <p class="stand-head">
            <Sign of={one.sign} /> {one.title}
          </p>
          {one.lines.map((line) => (
            <p key={line}>{line}</p>
          ))}
          {!one.releasable && one.sign === "rejected" && (
            <p class="never" {...testid("never")}>
              {w.never_released}
            </p>
          )}
          {one.releasable && one.event !== "" && may && (
            <button
              type="button"
              class="button"
              aria-pressed={sheet.fields.releases === one.event}
              onClick={() => fill({ open: "released", releases: one.event, note: "" })}
              {...testid(`release-${i + 1}`)}
            >
              {w.release}
            </button>
          )}
          {one.releasable && !may && <p class="soft">{w.release_by_others}</p>}
        </li>
      ))}
    </ul>
  );
}

/** A note as it is read; that of a hold which the plant's own pages set is a code. */
function noted(note: string): string {
  const [, code = "", number = ""] = /^kept:(\w+):?(.*)$/.exec(note) ?? [];
  const said = floorWords.value.kept[code];
  return said === undefined ? note : [said, number].filter(Boolean).join(": ");
}

function stands(work: Work, route: Route | null): Stands[] {
  const w = floorWords.value;
  const at = (station: string) => stationName(station, route, spoken.value);
  return [
    ...work.rejections.map(
      (one): Stands => ({
        event: one.event,
        sign: "rejected",
        title: w.rejected_at(at(one.station), when(one.at)),
        lines: [
          reasonInWords(one.reason),
          [w.causes[one.cause as "casing"] ?? "", one.note].filter(Boolean).join(" · "),
        ].filter(Boolean),
        releasable: one.releasable,
      }),
    ),
    ...work.holds.map(
      (one): Stands => ({
        event: one.event,
        sign: "hold",
        title: w.held_at(at(one.station), when(one.at)),
        lines: one.note === "" ? [] : [noted(one.note)],
        releasable: one.releasable,
      }),
    ),
    ...work.differences.map(
      (one): Stands => ({
        event: one.event,
        sign: "repair",
        title: w.differs,
        lines: [differenceSaid(one)],
        releasable: true,
      }),
    ),
  ];
}
