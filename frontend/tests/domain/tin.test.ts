/** TINs against the vectors that are read by Python too, and against a walk through the days. */
import { describe, expect, it } from "vitest";
import {
  ageWeeks,
  ageYears,
  codeOf,
  type DateCode,
  dateCode,
  digitsOf,
  kinds,
  type Reading,
  read,
  SLIPS,
  SYMBOLS,
  weeksIn,
} from "../../src/domain/tin";
import { vectors } from "../golden/read";

type Case = {
  about: string;
  text: string;
  today: string;
  age_limit_years: number | null;
  reading: Reading;
};
const { cases, days, ages } = vectors("tin") as {
  cases: Case[];
  days: { day: string; digits: string; code: DateCode }[];
  ages: { week: number; year: number; on: string; weeks: number; years: number }[];
};

describe("TINs", () => {
  it.each(cases)("$about: $text", (given) => {
    expect(read(given.text, given.today, given.age_limit_years)).toEqual(given.reading);
  });

  it.each(days)("$day lies in week $digits", ({ day, digits, code }) => {
    expect(codeOf(day)).toEqual(code);
    expect(digitsOf(code)).toBe(digits);
  });

  it.each(ages)("week $week of $year on $on", ({ week, year, on, weeks, years }) => {
    const code = dateCode(week, year)!;
    expect([ageWeeks(code, on), ageYears(code, on)]).toEqual([weeks, years]);
  });

  it("every week from 1990 to 2040 begins on a Sunday and follows the one before", () => {
    // 49 CFR 574.5(b)(3), by stepping through noon of every Sunday in local time.
    const sunday = new Date(1990, 0, 7, 12);
    for (let year = 1990; year <= 2040; year++) {
      let week = 0;
      for (; sunday.getFullYear() === year; sunday.setDate(sunday.getDate() + 7)) {
        const two = (n: number): string => String(n).padStart(2, "0");
        const day = `${year}-${two(sunday.getMonth() + 1)}-${two(sunday.getDate())}`;
        expect(dateCode(++week, year)?.first).toBe(day);
      }
      expect(weeksIn(year)).toBe(week);
      expect(dateCode(week + 1, year)).toBeNull();
    }
    expect(sunday.getFullYear()).toBe(2041);
  });

  it("symbols and slips make up digits and alphabet", () => {
    const all = [...SYMBOLS, ...Object.keys(SLIPS)].sort().join("");
    expect(all).toBe("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ");
  });

  it("new or retread is left open until an R is seen", () => {
    expect(kinds(read("2910", "2026-04-15"))).toEqual(["new", "retread"]);
    expect(kinds(read("2910 R", "2026-04-15"))).toEqual(["retread"]);
    expect(kinds(read("", "2026-04-15"))).toEqual([]);
  });
});
