/** What a TIN tells, in words: as it is typed, and short for lists. The rules are domain/tin's. */
import {
  ageWeeks,
  ageYears,
  type DateCode,
  type Finding,
  type Reading,
  read,
} from "../../domain/tin";
import type { Words } from "../words.en";
import { marked, mayBeMark } from "./tinSlips";

export interface Said {
  /** soft: nothing to say yet. asks: another look is worth it; it is kept as read all the same. */
  tone: "soft" | "good" | "asks";
  text: string;
}

const MOST_SYMBOLS = 13;

export function tinSaid(typed: string, today: string, w: Words): Said {
  const reading = read(marked(typed, today), today);
  const mark = mayBeMark(typed, today);
  const oddities = reading.findings.map((finding) => odd(finding, reading, w)).filter(Boolean);
  if (mark !== null && !mark.sure)
    oddities.push(plain(reading, today, w), w.tin_mark_open(mark.apart));
  const told = oddities.length > 0 ? oddities : [plain(reading, today, w)];
  const slips = slipsIn(reading, w);
  const text = [...told, slips].filter(Boolean).join(" ");
  if (text === "") return { tone: "soft", text: w.tin_hint };
  if (oddities.length > 0) return { tone: "asks", text };
  const sure = reading.date !== null || reading.candidates.length > 0;
  return { tone: sure ? "good" : "soft", text };
}

/** "DOT 2910 · week 29 of 2010": as read, and what it means where it means one week. */
export function tinShort(tin: string, today: string, w: Words): string {
  if (tin === "") return "";
  const { date } = read(tin, today);
  const symbols = tin.trim().toUpperCase();
  const name = /^(DOT|TIN)/.test(symbols) ? symbols : `DOT ${symbols}`;
  return date === null ? name : `${name} · ${w.tin_week(date.week, date.year)}`;
}

function plain(reading: Reading, today: string, w: Words): string {
  const { date, findings } = reading;
  if (findings.some(({ key }) => key === "mileage_contract")) return w.tin_mileage;
  if (date !== null) {
    const week = w.tin_week(date.week, date.year);
    const sentence = reading.retread
      ? w.tin_retread(week)
      : `${capital(week)}, ${age(date, today, w)}.`;
    const three = findings.find(({ key }) => key === "may_be_three_digits");
    return three === undefined ? sentence : `${sentence} ${maybeThree(reading, three, w)}`;
  }
  if (findings.some(({ key }) => key === "decade_open"))
    return w.tin_either(weeks(reading.candidates[0]?.dates ?? [], w));
  if (findings.some(({ key }) => key === "date_not_numeric")) return w.tin_no_date;
  return "";
}

/** A finding that asks for another look; empty for those that say what is usual. */
function odd({ key, facts }: Finding, reading: Reading, w: Words): string {
  const digits = String(facts.digits ?? "");
  switch (key) {
    case "from_the_future":
      return reading.date === null
        ? ""
        : w.tin_future(capital(w.tin_week(reading.date.week, reading.date.year)));
    case "week_00":
    case "week_above_53":
      return w.tin_week_wrong(digits.slice(0, 2));
    case "no_week_53_that_year":
      return w.tin_no_week_53(digits.slice(2));
    case "symbol_not_used":
      return w.tin_symbol(String(facts.symbols));
    case "date_unread":
      return w.tin_unread;
    case "layout_not_in_use_then":
      return w.tin_layout(Number(facts.symbols));
    case "length_fits_no_layout":
      return Number(facts.symbols) > MOST_SYMBOLS ? w.tin_too_long(Number(facts.symbols)) : "";
    default:
      return "";
  }
}

function maybeThree(reading: Reading, { facts }: Finding, w: Words): string {
  const other = reading.candidates.find((one) => one.digits === facts.digits);
  return w.tin_maybe_three(weeks(other?.dates ?? [], w));
}

const weeks = (dates: DateCode[], w: Words): string =>
  dates.map(({ week, year }) => w.tin_week(week, year)).join(w.tin_or);

function age(date: DateCode, today: string, w: Words): string {
  const years = ageYears(date, today);
  return years > 0 ? w.tin_years_old(years) : w.tin_weeks_old(Math.max(0, ageWeeks(date, today)));
}

function slipsIn({ corrections }: Reading, w: Words): string {
  const pairs = new Map(corrections.map(({ typed, meant }) => [typed, meant]));
  if (pairs.size === 0) return "";
  return w.tin_slips([...pairs].map(([typed, meant]) => w.tin_slip(typed, meant)).join(", "));
}

const capital = (sentence: string): string =>
  sentence.slice(0, 1).toUpperCase() + sentence.slice(1);
