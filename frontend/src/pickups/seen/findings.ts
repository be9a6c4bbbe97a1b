/** Findings as they are noted, changed and taken off again, and how each is said. Pure. */
import { type ConditionCaution, cautionsOf, isStop } from "../../domain/condition";
import type { Condition, Finding } from "../../domain/operation";
import type { SeenWords } from "./words.en";
import { isAt, type Place } from "./section";

/** What the wire takes. */
export const MOST_FINDINGS = 24;
export const MOST_MM = 3000;
export const MOST_ALIKE = 99;
export const MOST_FINDING_PHOTOS = 4;

/** Whatever stops a casing is neither filled with air nor run. */
export const OF_A_STOP: ConditionCaution[] = ["never_add_air", "do_not_run"];

/** What has to be said of these findings, each once, the gravest first. */
export function cautionsSaid(findings: Finding[]): ConditionCaution[] {
  const told = cautionsOf(findings);
  return findings.some(({ kind }) => isStop(kind)) ? [...new Set([...OF_A_STOP, ...told])] : told;
}

/** Lengths that a thumb can press, in mm: about 3/16, 3/8, 1, 2 and 4 inches. */
export const LENGTHS_MM = [5, 10, 25, 50, 100];

export const found = (place: Place, kind: Condition): Finding => ({
  ...place,
  kind,
  mm: null,
  count: 1,
  photos: [],
});

/** One more, at the end, unless there are as many as can be told. */
export const withOne = (findings: Finding[], one: Finding): Finding[] =>
  findings.length < MOST_FINDINGS ? [...findings, one] : findings;

export const changed = (findings: Finding[], at: number, some: Partial<Finding>): Finding[] =>
  findings.map((one, i) => (i === at ? { ...one, ...some } : one));

export const without = (findings: Finding[], at: number): Finding[] =>
  findings.filter((_, i) => i !== at);

/** Back in its old place among what stands by now. */
export const putBack = (findings: Finding[], one: Finding, at: number): Finding[] =>
  withOne(findings, one).length === findings.length
    ? findings
    : [...findings.slice(0, at), one, ...findings.slice(at)];

export const alikeAt = (findings: Place[], place: Place): number =>
  findings.filter((one) => isAt(place, one)).length;

/** A length as typed in whole mm; null where none is told, `none` where it is no length. */
export function lengthIn(typed: string): number | null | "none" {
  if (typed.trim() === "") return null;
  const mm = /^\d{1,4}$/.test(typed.trim()) ? Number(typed) : 0;
  return mm >= 1 && mm <= MOST_MM ? mm : "none";
}

/** Photos that were dropped from the casing are no longer shown with what was found. */
export const photosKept = (findings: Finding[], photos: string[]): Finding[] =>
  findings.map((one) => ({ ...one, photos: one.photos.filter((sha) => photos.includes(sha)) }));

export const placeSaid = ({ zone, side }: Place, w: SeenWords): string =>
  side === "" ? w.zones[zone] : `${w.zones[zone]}, ${w.sides[side]}`;

/** A length in both measures; `decimal` writes the language's own number. */
export const lengthSaid = (mm: number, w: SeenWords, decimal: (value: number) => string): string =>
  w.condition_mm(mm, decimal(mm / 25.4));

/** The whole finding in one line of words. */
export const findingSaid = (
  one: Finding,
  w: SeenWords,
  decimal: (value: number) => string,
): string =>
  [
    w.kinds[one.kind],
    placeSaid(one, w),
    one.mm === null ? "" : lengthSaid(one.mm, w, decimal),
    one.count > 1 ? w.condition_times(one.count) : "",
  ]
    .filter((said) => said !== "")
    .join(" · ");

/** What was noted of one casing; apart from it what stops it, and what has to be said with that. */
export function notedSaid(
  findings: Finding[],
  w: SeenWords,
  decimal: (value: number) => string,
): { noted: string; stop: string } {
  const said = (some: Finding[]) => some.map((one) => findingSaid(one, w, decimal)).join("; ");
  const stops = findings.filter(({ kind }) => isStop(kind));
  const cautions = cautionsSaid(findings).map((caution) => w.cautions[caution]);
  return {
    noted: said(findings.filter(({ kind }) => !isStop(kind))),
    stop: [...(stops.length > 0 ? [`${w.caution_stop}: ${said(stops)}.`] : []), ...cautions].join(
      " ",
    ),
  };
}
