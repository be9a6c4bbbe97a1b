/** A line of the note that a key writes and takes out again, beside what was typed there. Pure. */
import type { Tin } from "../../domain/operation";
import { read, type Reading } from "../../domain/tin";
import type { Words } from "../words.en";

/** The years that three digits may mean, each with its line of the note; none where they are sure. */
export function yearLines(reading: Reading, w: Words): { year: number; line: string }[] {
  const open = reading.findings.find(({ key }) => key === "decade_open");
  if (open === undefined) return [];
  const digits = String(open.facts.digits);
  const dates = reading.candidates.find((one) => one.digits === digits)?.dates ?? [];
  return dates.map(({ week, year }) => ({
    year,
    line: w.tin_decade_noted(digits, w.tin_week(week, year)),
  }));
}

const linesOf = (note: string): string[] => note.split("\n");

export const noted = (note: string, line: string): boolean => linesOf(note).includes(line);

export const withoutNoted = (note: string, lines: string[]): string =>
  linesOf(note)
    .filter((one) => !lines.includes(one))
    .join("\n");

/** The note once the TINs were changed: what was noted of digits that are gone goes with them. */
export function noteOf(
  note: string,
  { before, after }: { before: Tin[]; after: Tin[] },
  today: string,
  w: Words,
): string {
  const said = (tins: Tin[]) =>
    tins.flatMap(({ tin }) => yearLines(read(tin, today), w).map(({ line }) => line));
  const still = said(after);
  const gone = said(before).filter((line) => !still.includes(line));
  return gone.some((line) => noted(note, line)) ? withoutNoted(note, gone) : note;
}
