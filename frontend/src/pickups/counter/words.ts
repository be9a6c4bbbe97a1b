/** The counter's own words, in the language that is switched on. */
import { computed } from "@preact/signals";
import { spoken, thisYear } from "../words";
import { type CounterWords, en } from "./words.en";
import { es } from "./words.es";

export const counterWords = computed<CounterWords>(() => (spoken.value === "es" ? es : en));

/** A day with its weekday and month in full, as a ticket says it. */
export function dayInFull(day: string): string {
  const [year = 0, month = 1, date = 1] = day.split("-").map(Number);
  return new Intl.DateTimeFormat(spoken.value, {
    weekday: "long",
    day: "numeric",
    month: "long",
    ...(year === thisYear() ? {} : { year: "numeric" }),
  }).format(new Date(year, month - 1, date));
}
