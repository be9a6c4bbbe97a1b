/** Scrap and what stays there, below the casings of a pickup: each with how it stands. */
import type { VisitLine } from "../../domain/rows";
import { lineSaid, lineTitle } from "../seen/visitLines";
import { testid } from "../testids";
import { numerals, words } from "../words";
import { Standing } from "./CasingList";

export function VisitLines(props: {
  lines: VisitLine[];
  onOpen: ((line: VisitLine) => void) | null;
}) {
  const w = words.value;
  const { lines, onOpen } = props;
  if (lines.length === 0) return null;
  return (
    <ul class="lines">
      {lines.map((line) => (
        <li
          key={line.id}
          class="casing arrives"
          data-standing={line.standing}
          {...testid(`${line.kind}-line`)}
        >
          <span class="number" aria-hidden="true">
            {line.kind === "scrap" ? "×" : "–"}
          </span>
          <span class="what">
            <b>{lineTitle(line, w)}</b>
            {line.photos.length > 0 && ` · ${w.photos(line.photos.length)}`}
            <br />
            {lineSaid(line, w, numerals)}
          </span>
          <span class="stands">
            <Standing of={line} question={w.question_open} />
          </span>
          {onOpen !== null && (
            <button
              type="button"
              class="button plain"
              onClick={() => onOpen(line)}
              aria-label={`${w.correct}: ${lineTitle(line, w)}`}
              {...testid(`correct-${line.kind}`)}
            >
              {w.correct}
            </button>
          )}
        </li>
      ))}
    </ul>
  );
}
