/** What keeps an answer from being told, and what is told: no field that nobody filled in. */
import { expect, it } from "vitest";
import {
  type AnswerFields,
  BLANK_ANSWER,
  isUntouched,
  lotsAt,
  measure,
  missing,
  told,
} from "../../src/plant/answer";
import { unheard, type Work } from "../../src/plant/rows";
import { K1, K2 } from "./things";

const at = {
  work: unheard(K1),
  works: new Map<string, Work>(),
  more: [],
  materials: [],
  lots: [],
  load: "",
  differs: false,
  behind: false,
  without: false,
};
const with_ = (some: Partial<AnswerFields>): AnswerFields => ({
  ...BLANK_ANSWER,
  label: K1,
  ...some,
});
const given = { station: "buffing", more: [], machine: "", lots: [], load: "", photos: [] };

it("passed is told by one key, as short as can be", () => {
  expect(missing("passed", with_({}), at)).toBeNull();
  expect(told("passed", with_({}), given)).toEqual({
    label: K1,
    station: "buffing",
    outcome: "passed",
  });
});

it("a rejection asks for reason and cause, a hold and a release for why", () => {
  expect(missing("rejected", with_({}), at)).toBe("reason");
  expect(missing("rejected", with_({ reason: "ZIPPER" }), at)).toBe("cause");
  expect(missing("rejected", with_({ reason: "ZIPPER", cause: "casing" }), at)).toBeNull();
  expect(missing("hold", with_({ note: " " }), at)).toBe("note");
  expect(missing("released", with_({ note: "looked again" }), at)).toBeNull();
});

it("an envelope is tied before it goes on, and a finished casing gets a tag of its own", () => {
  expect(missing("passed", with_({}), { ...at, more: ["envelope"] })).toBe("envelope");
  const tag = { ...at, more: ["tag" as const] };
  expect(missing("finished", with_({}), tag)).toBe("tag");
  expect(missing("finished", with_({ tag: "K700103" }), tag)).toBe("tag_fault");
  expect(missing("finished", with_({ tag: K1 }), tag)).toBe("tag_same");
  expect(missing("finished", with_({ tag: "K700 103D" }), tag)).toBeNull();
  const more = { ...given, station: "paint", more: ["tag" as const] };
  expect(told("finished", with_({ tag: "k700 103d" }), more).tag).toBe(K2);
  // A casing that is rejected instead keeps its label.
  expect(told("rejected", with_({ tag: K2 }), more).tag).toBeUndefined();
});

it("what differs from its order goes on with a reason only", () => {
  const more = { ...at, more: ["built" as const], differs: true };
  const read = with_({ tread_design: "DL-41", retread_tin: "R7HK2126" });
  expect(missing("passed", with_({}), more)).toBe("built");
  expect(missing("passed", read, more)).toBe("differences");
  expect(missing("passed", { ...read, differs_note: "customer called" }, more)).toBeNull();
  expect(missing("repair", with_({}), more)).toBeNull();
});

it("behind its repair it is sent back to a station; differences that stand are released first", () => {
  expect(missing("repair", with_({}), { ...at, behind: true })).toBe("again");
  expect(missing("repair", with_({ again_at: "curing" }), { ...at, behind: true })).toBeNull();
  const work = {
    ...unheard(K1),
    differences: [{ event: "e", field: "caps", ordered: "2", found: "3" }],
  };
  const tag = { ...at, work, more: ["tag" as const] };
  expect(missing("finished", with_({ tag: K2 }), tag)).toBe("released_first");
});

it.each([
  ["", null],
  ["3180", 3180],
  ["3180,5", 3180.5],
  ["3180.5", 3180.5],
  ["999", "none"],
  ["6001", "none"],
  ["3180mm", "none"],
  ["-4", "none"],
])("a circumference typed as %j is read as %j", (typed, read) => {
  expect(measure(typed, [1000, 6000])).toBe(read);
});

it("photos of a finding are told with it, the others with the casing", () => {
  const fields = with_({
    findings: [{ zone: "bead", side: "other", kind: "cut", size_mm: 10, count: 1, photos: ["aa"] }],
  });
  const tell = told("repair", fields, { ...given, photos: ["aa", "bb"] });
  expect(tell.findings?.[0]).toEqual({
    zone: "bead",
    side: "other",
    kind: "cut",
    size_mm: 10,
    photos: ["aa"],
  });
  expect(tell.photos).toEqual(["bb"]);
});

it("lots are told where work was done, not with what was rejected", () => {
  const lots = lotsAt(["cushion_gum"], [{ kind: "cushion_gum", number: " CG-1 " }]);
  expect(lots).toEqual([{ kind: "cushion_gum", number: "CG-1" }]);
  expect(told("passed", with_({}), { ...given, lots }).lots).toEqual(lots);
  expect(told("rejected", with_({}), { ...given, lots }).lots).toBeUndefined();
});

it("a sheet on which nothing but the scan stands may give way to the next scan", () => {
  expect(isUntouched(with_({}), 0)).toBe(true);
  expect(isUntouched(with_({ note: "x" }), 0)).toBe(false);
});
