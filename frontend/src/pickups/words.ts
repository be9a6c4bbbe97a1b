/** The one switch between English and Spanish, and how times are written in each. */
import { computed, effect, signal } from "@preact/signals";
import { type Words, en } from "./words.en";
import { es } from "./words.es";

export type Language = "en" | "es";

export const language = signal<Language>(navigator.language.startsWith("es") ? "es" : "en");

export const words = computed<Words>(() => (language.value === "es" ? es : en));

effect(() => {
  document.documentElement.lang = language.value;
});

/** The time of day; with the day too where it was not today. */
export function when(at: number | string): string {
  const date = new Date(at);
  const today = date.toDateString() === new Date().toDateString();
  return new Intl.DateTimeFormat(language.value, {
    hour: "numeric",
    minute: "2-digit",
    ...(today ? {} : { day: "numeric", month: "short" }),
  }).format(date);
}

/** A number with at most one decimal. */
export const decimal = (value: number): string =>
  new Intl.NumberFormat(language.value, { maximumFractionDigits: 1 }).format(value);
