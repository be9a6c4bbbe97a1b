/** Scrap and what stays there in words: on the count, the list that is signed, the receipt. Pure. */
import { isStop } from "../../domain/condition";
import { tinOf, type VisitLine } from "../../domain/rows";
import { counted } from "../../domain/shown";
import { findingSaid } from "./findings";
import type { SeenWords } from "./words.en";

/** How a language writes numbers: of any kind, and of money in hundredths. */
export interface Numerals {
  decimal: (value: number) => string;
  money: (cents: number) => string;
}

/** "1 loose wheel, 6 scrap, 1 left here"; "" where there is none of them. */
export function countsSaid(lines: VisitLine[], w: SeenWords, wheels = 0): string {
  const { scrap, left } = counted(lines);
  return [
    wheels > 0 ? w.wheels_n(wheels) : "",
    scrap > 0 ? w.scrap_n(scrap) : "",
    left > 0 ? w.left_n(left) : "",
  ]
    .filter((said) => said !== "")
    .join(", ");
}

export const lineTitle = (line: VisitLine, w: SeenWords): string =>
  line.kind === "scrap" ? w.scrap_n(line.count) : w.left_one;

/** Why a casing stays: what was seen on it, else the rules that spoke. */
export const whyLeft = (line: VisitLine, w: SeenWords, decimal: Numerals["decimal"]): string =>
  line.findings.length > 0
    ? line.findings.map((one) => findingSaid(one, w, decimal)).join("; ")
    : (line.check?.because ?? []).map((rule) => w.because[rule] ?? rule).join(", ");

/** What stands beside it: of scrap manifest and fee, of a casing what it is and why it stays. */
export function lineSaid(line: VisitLine, w: SeenWords, numerals: Numerals): string {
  const said =
    line.kind === "scrap"
      ? [
          line.manifest === "" ? "" : w.scrap_manifest_short(line.manifest),
          line.fee_cents === null ? "" : w.scrap_fee_short(numerals.money(line.fee_cents)),
        ]
      : [tinOf(line) || w.left_no_tin, line.brand, line.size, whyLeft(line, w, numerals.decimal)];
  return [...said, line.note].filter((one) => one !== "").join(" · ");
}

/** Something that must not run stays there: its owner has to be told so. */
export const leavesDanger = (lines: VisitLine[]): boolean =>
  lines.some(({ kind, findings }) => kind === "left" && findings.some((one) => isStop(one.kind)));
