/** A line of the note that a key writes and takes out again, beside what was typed there. Pure. */

const linesOf = (note: string): string[] => note.split("\n");

export const noted = (note: string, line: string): boolean => linesOf(note).includes(line);

export const withoutNoted = (note: string, lines: string[]): string =>
  linesOf(note)
    .filter((one) => !lines.includes(one))
    .join("\n");
