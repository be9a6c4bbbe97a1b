/**
 * The decades that three digits may mean, as choices. What a person knows goes into the note: a
 * TIN is told as it was read, and nothing but the note says more than the sidewall does.
 */
import type { Reading } from "../../domain/tin";
import { testid } from "../testids";
import { words } from "../words";
import { NOTE_MOST } from "./fields";
import { noted, withoutNoted } from "./yearNote";

export function YearKeys(props: {
  reading: Reading;
  note: string;
  onNote: (note: string) => void;
}) {
  const { reading, note, onNote } = props;
  const w = words.value;
  const open = reading.findings.find(({ key }) => key === "decade_open");
  if (open === undefined) return null;
  const digits = String(open.facts.digits);
  const dates = reading.candidates.find((one) => one.digits === digits)?.dates ?? [];
  const lines = dates.map(({ week, year }) => ({
    year,
    line: w.tin_decade_noted(digits, w.tin_week(week, year)),
  }));
  const rest = withoutNoted(
    note,
    lines.map(({ line }) => line),
  );
  return (
    <fieldset class="small-keys">
      <legend>{w.tin_decade}</legend>
      {lines.map(({ year, line }) => {
        const told = noted(note, line);
        const next = told ? rest : [rest, line].filter((one) => one !== "").join("\n");
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
    </fieldset>
  );
}
