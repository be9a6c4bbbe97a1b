/** What can be seen of a casing, against the vectors that are read by Python too. */
import { describe, expect, it } from "vitest";
import {
  CAUTIONS,
  CONDITIONS,
  type ConditionCaution,
  cautionsOf,
  isStop,
  KINDS_BY_ZONE,
  OLD_REPAIRS,
  STOPS,
  sidesOf,
  ZONES,
} from "../../src/domain/condition";
import type { Condition, Zone } from "../../src/domain/operation";
import { vectors } from "../golden/read";

type Case = {
  about: string;
  findings: { zone: Zone; kind: Condition }[];
  cautions: ConditionCaution[];
};
const given = vectors("condition") as {
  kinds_by_zone: Record<Zone, Condition[]>;
  sides: Record<Zone, string[]>;
  stops: Condition[];
  old_repairs: Condition[];
  cases: Case[];
};

describe("condition", () => {
  it.each(given.cases)("$about", ({ findings, cautions }) => {
    expect(cautionsOf(findings)).toEqual(cautions);
    expect(cautionsOf([...findings].reverse())).toEqual(cautions);
  });

  it("zones hold the kinds of the vectors", () => {
    expect(KINDS_BY_ZONE).toEqual(given.kinds_by_zone);
    expect(Object.keys(KINDS_BY_ZONE)).toEqual(ZONES);
    expect(Object.fromEntries(ZONES.map((zone) => [zone, sidesOf(zone)]))).toEqual(given.sides);
    expect(STOPS).toEqual(given.stops);
    expect(OLD_REPAIRS).toEqual(given.old_repairs);
  });

  it("every kind can be told somewhere; six of them stop", () => {
    expect(new Set(Object.values(KINDS_BY_ZONE).flat())).toEqual(new Set(CONDITIONS));
    expect(CONDITIONS.filter(isStop)).toEqual(given.stops);
  });

  it("every caution is said of something", () => {
    expect(new Set(given.cases.flatMap(({ cautions }) => cautions))).toEqual(new Set(CAUTIONS));
  });
});
