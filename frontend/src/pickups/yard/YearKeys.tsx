/**
 * The decades that three digits may mean, as choices. What a person knows goes into the note: a
 * TIN is told as it was read, and nothing but the note says more than the sidewall does.
 */
import type { Reading } from "../../domain/tin";
import { testid } from "../testids";
import { words } from "../words";
import { NOTE_MOST } from "./fields";
import { noted, withoutNoted, yearLines } from "./yearNote";

export function YearKeys(props: {
  reading: Reading;
  note: string;
  onNote: (note: string) => void;
}) {
  const { reading, note, onNote } = props;
  const w = words.value;
  const lines = yearLines(reading, w);
  if (lines.length === 0) return null;
  const rest = withoutNoted(
    note,
    lines.map(({ line }) => line),
  );
  const withLine = (line: string) => [rest, line].filter((one) => one !== "").join("\n");
  const full = lines.some(({ line }) => withLine(line).length > NOTE_MOST);
  return (
    <fieldset class="small-keys">
      <legend>{w.tin_decade}</legend>
      {lines.map(({ year, line }) => {
        const told = noted(note, line);
        const next = told ? rest : withLine(line);
        return (
          <button
            key={year}
            type="button"
            class="button"
            aria-pressed={told}
            disabled={next.length > NOTE_MOST}
            onClick={() => onNote(next)}
            {...testid(`tin-year-${year}`)}
          >
            {year}
          </button>
        );
      })}
      {full && <p class="asks">{`${w.note}. ${w.room_none(NOTE_MOST)}`}</p>}
    </fieldset>
  );
}
