/** The spec check against the vectors that are read by Python too, and what holds of any casing. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CONDITIONS, isStop, OLD_REPAIRS, ZONES } from "../../src/domain/condition";
import {
  becauseOf,
  check,
  type Looked,
  type Result,
  RULES,
  type Specification,
  specificationFor,
} from "../../src/domain/eligibility";
import type { Finding, Line, Verdict } from "../../src/domain/operation";
import { vectors } from "../golden/read";

type Told = Omit<Looked, "findings"> & { findings: Omit<Finding, "side" | "photos">[] };
type Case = {
  about: string;
  specification: string | null;
  today: string;
  looked: Told;
  result: Result;
};
type Chosen = {
  about: string;
  customer: string;
  yard: string;
  of: [string, string | null, number][];
  found: number | null;
};
const { specifications, cases, chosen } = vectors("eligibility") as {
  specifications: Record<string, Partial<Specification>>;
  cases: Case[];
  chosen: Chosen[];
};

const BLANK: Specification = {
  id: "s",
  customer: "c",
  yard: null,
  number: 1,
  oldest_years: null,
  most_caps: null,
  most_nail_holes: null,
  repairs: null,
  brands: null,
  sizes: null,
  designs: {},
  fleet_brand: "",
  rejects: "ask",
  pull_32nds: null,
};

const whole = (told: Told): Looked => ({
  ...told,
  findings: told.findings.map((finding) => ({ ...finding, side: "", photos: [] })),
});

describe("the spec check", () => {
  it.each(cases)("$about", ({ specification, looked, today, result }) => {
    const spec = specification === null ? null : { ...BLANK, ...specifications[specification] };
    expect(check(spec, whole(looked), today)).toEqual(result);
  });

  it("the vectors hold every rule", () => {
    expect(new Set(cases.flatMap(({ result }) => becauseOf(result)))).toEqual(new Set(RULES));
  });

  it.each(chosen)("$about", ({ customer, yard, of, found }) => {
    const all = of.map(([whose, where, number]) => ({
      ...BLANK,
      customer: whose,
      yard: where,
      number,
    }));
    expect(specificationFor(all, customer, yard)?.number ?? null).toBe(found);
  });
});

const GRAVITY: Verdict[] = ["take", "plant", "leave"];
const LINES: Line[] = ["retread", "repair", "sell", "adjustment", "wheel_tire", "wheel"];
const orNull = <T>(one: fc.Arbitrary<T>) => fc.option(one, { nil: null });

const finding: fc.Arbitrary<Finding> = fc.record({
  zone: fc.constantFrom(...ZONES),
  kind: fc.constantFrom(...CONDITIONS),
  side: fc.constant("" as const),
  mm: orNull(fc.integer({ min: 1, max: 400 })),
  count: fc.integer({ min: 1, max: 9 }),
  photos: fc.constant([]),
});
const TYPED = [
  ...["1B3 ABCDEF 2923", "4B08 4DHR 1214", "4B08 4DHR 236", "4B08 4DHR 12??", "2923", "1214"],
  ...["ABC 2325 R", "ABC 2323", "ABC4X 2922", "1B3 ABCDEF 1027", "FOR MILEAGE CONTRACT", " "],
];
const looked: fc.Arbitrary<Looked> = fc.record({
  line: fc.constantFrom(...LINES),
  tins: fc.array(
    fc.record({
      tin: fc.constantFrom(...TYPED),
      made: fc.constantFrom("" as const, "new" as const, "retread" as const),
    }),
    { maxLength: 4 },
  ),
  size: fc.constantFrom("", "295/75R22.5", "11 R 22.5", "285/75R24.5", "big one"),
  brand: fc.constantFrom("", "northroad", "Ironbark"),
  findings: fc.array(finding, { maxLength: 4 }),
  position: fc.constantFrom("" as const, "drive" as const, "bus_front" as const),
  work: fc.constantFrom("retread" as const, "repair" as const),
});
const spec: fc.Arbitrary<Specification> = fc.record({
  ...Object.fromEntries(Object.entries(BLANK).map(([name, value]) => [name, fc.constant(value)])),
  oldest_years: orNull(fc.integer({ min: 1, max: 30 })),
  most_caps: orNull(fc.integer({ min: 0, max: 3 })),
  most_nail_holes: orNull(fc.integer({ min: 0, max: 6 })),
  repairs: orNull(fc.subarray(OLD_REPAIRS)),
  brands: orNull(fc.constant(["Northroad", "Tall Pine"])),
  sizes: orNull(fc.constant(["295/75R22.5", "11R22.5"])),
}) as fc.Arbitrary<Specification>;
const today = fc.constantFrom("1999-05-03", "2015-04-12", "2026-04-15", "2031-12-31");

describe("any casing", () => {
  it("has the verdict of its gravest ground, which stands first", () => {
    fc.assert(
      fc.property(spec, looked, today, (terms, told, day) => {
        const { verdict, grounds } = check(terms, told, day);
        const order = grounds.map((ground) => GRAVITY.indexOf(ground.verdict));
        expect(GRAVITY.indexOf(verdict)).toBe(Math.max(0, ...order));
        expect(order).toEqual([...order].sort((a, b) => b - a));
      }),
    );
  });

  it("is judged by the stops and the general rules alone where there is no specification", () => {
    fc.assert(
      fc.property(looked, today, (told, day) => {
        expect(check(null, told, day)).toEqual(check(BLANK, told, day));
      }),
    );
  });

  it("is never judged more mildly for one thing more that is seen", () => {
    fc.assert(
      fc.property(spec, looked, finding, today, (terms, told, more, day) => {
        const before = check(terms, told, day);
        const after = check(terms, { ...told, findings: [...told.findings, more] }, day);
        expect(GRAVITY.indexOf(after.verdict)).toBeGreaterThanOrEqual(
          GRAVITY.indexOf(before.verdict),
        );
      }),
    );
  });

  it("is judged alike in whatever order findings and TINs are told, and stays as it was", () => {
    fc.assert(
      fc.property(spec, looked, today, (terms, told, day) => {
        const was = structuredClone(told);
        const turned = {
          ...told,
          findings: [...told.findings].reverse(),
          tins: [...told.tins].reverse(),
        };
        expect(check(terms, turned, day)).toEqual(check(terms, told, day));
        expect(told).toEqual(was);
      }),
    );
  });

  it("that has a stop is left, but a claim never is", () => {
    fc.assert(
      fc.property(spec, looked, today, (terms, told, day) => {
        const { verdict } = check(terms, told, day);
        const stopped = told.findings.some(({ kind }) => isStop(kind));
        if (told.line === "wheel") expect(verdict).toBe("take");
        else if (told.line === "adjustment") expect(verdict).not.toBe("leave");
        else if (stopped) expect(verdict).toBe("leave");
      }),
    );
  });
});
