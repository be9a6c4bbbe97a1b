/**
 * The list that a signature covers, as the text whose SHA-256 is kept: label and promised day of
 * each casing, sorted. The same rule as the server's, held together by fixtures/vectors/shown.json.
 */
export const shownText = (lines: { label: string; on: string }[]): string =>
  lines
    .map(({ label, on }) => `${label} ${on}`.trimEnd())
    .sort()
    .join("\n");
