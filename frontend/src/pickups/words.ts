/** The one switch between English and Spanish, and how times are written in each. */
import { computed, effect, signal } from "@preact/signals";
import { dayOf, inZone } from "../domain/days";
import { moneyIn } from "./money";
import { type Words, en } from "./words.en";

export type Language = "en" | "es";

export const language = signal<Language>(navigator.language.startsWith("es") ? "es" : "en");

/** The language in which somebody else reads this screen, as long as they do; null: nobody else. */
export const readsIn = signal<Language | null>(null);

/** What the screen is written in now: the holder's language, or the one of who reads it. */
export const spoken = computed<Language>(() => readsIn.value ?? language.value);

/** What is said otherwise where somebody works: what stays "here" in a yard goes home at a counter. */
export const saidHere = signal<Partial<Record<Language, Partial<Words>>>>({});

/** The other language, once it is asked for: a script of its own, kept on the device like all. */
const spanish = signal<Words | null>(null);

/** Resolves when the screen can be written in what is spoken now. */
export async function wordsHere(): Promise<void> {
  if (spoken.value === "es") spanish.value ??= (await import("./words.es")).es;
}

const wordsIn = (spoken: Language): Words => ({
  ...((spoken === "es" ? spanish.value : null) ?? en),
  ...saidHere.value[spoken],
});

export const words = computed<Words>(() => wordsIn(spoken.value));

/** In the holder's own language, whoever reads the screen: what is kept and what the office reads. */
export const ownWords = computed<Words>(() => wordsIn(language.value));

effect(() => {
  document.documentElement.lang = spoken.value;
  // Not here for now (an update half fetched): English stays, and the next switch tries again.
  wordsHere().catch(() => {});
});

/** The time of day; with the day too where it was not today. */
export function when(at: number | string): string {
  const date = new Date(at);
  const today = dayOf(date.getTime()) === dayOf(Date.now());
  return new Intl.DateTimeFormat(spoken.value, {
    ...inZone(),
    hour: "numeric",
    minute: "2-digit",
    ...(today ? {} : { day: "numeric", month: "short" }),
  }).format(date);
}

export const thisYear = (): number => Number(dayOf(Date.now()).slice(0, 4));

/** A day (2026-04-28) with its weekday; with the year too where it is not this one. */
export function dayInWords(day: string): string {
  const [year = 0, month = 1, date = 1] = day.split("-").map(Number);
  const written = new Intl.DateTimeFormat(spoken.value, {
    weekday: "short",
    day: "numeric",
    month: "short",
    ...(year === thisYear() ? {} : { year: "numeric" }),
  }).format(new Date(year, month - 1, date));
  return written.replaceAll(" ", "\u00a0"); // a day is read in one look
}

/** The dealer's currency, ISO 4217; empty as long as the office has not told it. */
export const currency = signal("");

/** Money in hundredths of the dealer's currency; without its sign as long as that is not known. */
export const money = (cents: number): string => moneyIn(spoken.value, currency.value, cents);

/** A number with at most one decimal. */
export const decimal = (value: number): string =>
  new Intl.NumberFormat(spoken.value, { maximumFractionDigits: 1 }).format(value);

/** A number with at most two decimals. */
export const fine = (value: number): string =>
  new Intl.NumberFormat(spoken.value, { maximumFractionDigits: 2 }).format(value);

export const numerals = { decimal, money };

/** A whole number, thousands apart. */
export const whole = (value: number): string =>
  new Intl.NumberFormat(spoken.value, { maximumFractionDigits: 0 }).format(value);
