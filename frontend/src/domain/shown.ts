/**
 * The list that a signature covers, as the text whose SHA-256 is kept: label and promised day of
 * each casing, how many tires are scrap and how many casings stay there, sorted. The same rule as
 * the server's, held together by fixtures/vectors/shown.json.
 */
export interface Counted {
  /** Tires counted as scrap, over all lines. */
  scrap: number;
  /** Casings that were looked at and stay there. */
  left: number;
}

/** What of it a signature covers; what the office could not take is not among the lines. */
export const counted = (lines: { kind: "scrap" | "left"; count: number }[]): Counted => ({
  scrap: lines.reduce((sum, { kind, count }) => (kind === "scrap" ? sum + count : sum), 0),
  left: lines.filter(({ kind }) => kind === "left").length,
});

export const NOTHING_COUNTED: Counted = { scrap: 0, left: 0 };

export const shownText = (
  lines: { label: string; on: string }[],
  { scrap, left }: Counted = NOTHING_COUNTED,
): string =>
  [
    ...lines.map(({ label, on }) => `${label} ${on}`.trimEnd()),
    ...(scrap > 0 ? [`scrap ${scrap}`] : []),
    ...(left > 0 ? [`left ${left}`] : []),
  ]
    .sort()
    .join("\n");
