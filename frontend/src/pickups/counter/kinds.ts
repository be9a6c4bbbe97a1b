/** A casing's kind in words, and the day that is due for it. */
import type { Line } from "../../domain/operation";
import { type Casing, dueOn } from "../../domain/rows";
import { LINES } from "../seen/seen";
import { dayInWords, words } from "../words";
import { isPromised } from "./entry";
import { counterWords } from "./words";

export const lineOf = (casing: Casing): Line =>
  LINES.find((line) => line === casing.line) ?? "retread";

/** Where no day is due, what comes instead of one. */
export function dueSaid(casing: Casing): string {
  const w = counterWords.value;
  const line = lineOf(casing);
  if (!isPromised(line)) return `${words.value.lines[line]}: ${w.instead[line] ?? ""}`;
  const on = dueOn(casing);
  const day = on === null ? words.value.promised_no_day : w.promised_for(dayInWords(on));
  return line === "retread" ? day : `${words.value.lines[line]}, ${day}`;
}
