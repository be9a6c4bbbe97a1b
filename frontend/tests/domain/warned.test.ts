/** No warning about photos is swallowed by the next one. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Came, stillSaid, type Warning, warned } from "../../src/domain/warned";

const came = fc.constantFrom<Came>("whole", "smaller", "later", "without_photos");
const cameAfter = (all: Came[]): Warning[] => all.reduce<Warning[]>(warned, []);

describe("what is said of photos on a full device", () => {
  it("keeps that photos are lost, whatever comes after", () => {
    fc.assert(
      fc.property(fc.array(came), fc.array(came), (before, then) => {
        const said = stillSaid(cameAfter([...before, "without_photos", ...then]), 0);
        expect(said[0]).toBe("without_photos");
      }),
    );
  });

  it("says both where photos of one are lost and those of another wait for room", () => {
    expect(stillSaid(cameAfter(["without_photos", "later"]), 1)).toEqual([
      "without_photos",
      "later",
    ]);
    expect(stillSaid(cameAfter(["later", "without_photos"]), 1)).toEqual([
      "without_photos",
      "later",
    ]);
  });

  it("says that photos wait as long as they do, after a kill too", () => {
    expect(stillSaid([], 2)).toEqual(["later"]);
    expect(stillSaid(cameAfter(["later"]), 0)).toEqual([]);
  });

  it("says of the last one only that its photos are smaller, and each warning once", () => {
    expect(cameAfter(["smaller", "whole"])).toEqual([]);
    expect(cameAfter(["smaller", "later", "smaller"])).toEqual(["later", "smaller"]);
  });
});
