/** Scrap and what stays there, counted and in words; as they are typed and told. */
import fc from "fast-check";
import { expect, it } from "vitest";
import {
  countsSaid,
  leavesDanger,
  lineSaid,
  lineTitle,
} from "../../../src/pickups/seen/visitLines";
import { en } from "../../../src/pickups/words.en";
import { es } from "../../../src/pickups/words.es";
import { BLANK } from "../../../src/pickups/yard/fields";
import { leftAgain, leftPayload, takenAfterAll } from "../../../src/pickups/yard/leaving";
import {
  BLANK_SCRAP,
  MOST_PIECES,
  piecesIn,
  scrapFault,
  scrapOf,
  scrapPayload,
  stepped,
} from "../../../src/pickups/yard/scrap";
import { line, numerals } from "./things";

const SCRAP = line({ id: "s", kind: "scrap", count: 6, fee_cents: 450, manifest: "TX-44812" });
const CORD = { zone: "sidewall", kind: "cord", side: "other", mm: 60, count: 1, photos: ["f"] };
const LEFT = line({
  id: "l",
  kind: "left",
  tins: [{ tin: "4B08 4DHR 4307", made: "new" }],
  size: "295/75R22.5",
  brand: "Corvane",
  findings: [CORD],
  check: { verdict: "leave", specification: null, number: null, because: ["stop_condition"] },
  note: "told the manager",
  photos: ["f"],
});

it("counts are said where there are any", () => {
  expect(countsSaid([], en)).toBe("");
  expect(countsSaid([SCRAP], en)).toBe("6 scrap");
  expect(countsSaid([SCRAP, LEFT, SCRAP], en)).toBe("12 scrap, 1 left here");
  expect(countsSaid([LEFT, LEFT], es)).toBe("2 se quedan aquí");
});

it("a line says what it is, and beside it what was recorded", () => {
  expect([lineTitle(SCRAP, en), lineSaid(SCRAP, en, numerals)]).toEqual([
    "6 scrap",
    "manifest TX-44812 · 4.50 each",
  ]);
  expect([lineTitle(LEFT, en), lineSaid(LEFT, en, numerals)]).toEqual([
    "Casing left here",
    "4B08 4DHR 4307 · Corvane · 295/75R22.5 · Cord showing · Sidewall, other side · 60 mm (2.4 in) · told the manager",
  ]);
});

it("a casing without a TIN and without damage says so, and by which rule it stays", () => {
  const old = line({ kind: "left", check: { because: ["too_old", "of a later version"] } });
  expect(lineSaid(old, en, numerals)).toBe(
    "TIN not read · too old for this customer, of a later version",
  );
});

it("only what stays and must not run is a danger to be told of", () => {
  expect(leavesDanger([SCRAP])).toBe(false);
  expect(leavesDanger([LEFT])).toBe(true);
  expect(leavesDanger([{ ...LEFT, findings: [{ ...LEFT.findings[0]!, kind: "cut" }] }])).toBe(
    false,
  );
});

it.each([
  ["1", 1],
  [" 60 ", 60],
  ["9999", 9999],
  ["0", null],
  ["10000", null],
  ["1.5", null],
  ["six", null],
  ["", null],
])("scrap typed as %j is %j", (typed, pieces) => {
  expect(piecesIn(typed)).toBe(pieces);
});

it("steps stay among counts that can be told, from whatever was typed", () => {
  fc.assert(
    fc.property(fc.oneof(fc.string(), fc.nat(12_000).map(String)), fc.integer(), (typed, by) => {
      const pieces = piecesIn(stepped(typed, by));
      expect(pieces).not.toBeNull();
      const from = piecesIn(typed);
      if (from !== null && from + by >= 1 && from + by <= MOST_PIECES)
        expect(pieces).toBe(from + by);
    }),
  );
});

it("faults of scrap name the field, what was typed and what is allowed", () => {
  const fault = (some: object) => scrapFault({ ...BLANK_SCRAP, ...some }, en);
  expect(fault({})).toBeNull();
  expect(fault({ pieces: "six" })).toEqual({ at: "pieces", said: en.scrap_count_fault("six") });
  expect(fault({ fee: "4.505" })).toEqual({ at: "fee", said: en.scrap_fee_fault("4.505") });
  expect(fault({ fee: "10000" })).toBeNull();
  expect(fault({ fee: "10000.01" })?.at).toBe("fee");
});

it("scrap that is corrected begins as it was told and names its first telling", () => {
  const at = { pickup: "p", yard: "y", store: null };
  expect(scrapPayload(at, scrapOf(SCRAP), [], "s")).toEqual({
    ...at,
    count: 6,
    fee_cents: 450,
    manifest: "TX-44812",
    note: "",
    photos: [],
    corrects: "s",
  });
});

it("what is left is told with what was seen, its photos and the check, overruled by nobody", () => {
  const at = { pickup: "p", yard: "y", store: null };
  const checked = { verdict: "leave" as const, specification: null, number: null, because: [] };
  const fields = {
    ...BLANK,
    tins: LEFT.tins,
    findings: [{ ...LEFT.findings[0]!, photos: ["f", "dropped"] }],
    overruled: "half a reason",
    note: " told ",
  };
  const told = leftPayload(at, fields, checked, ["f"]);
  expect(told.findings).toEqual(LEFT.findings);
  expect(told.check).toEqual({ ...checked, overruled: "" });
  expect([told.note, told.photos, told.corrects]).toEqual(["told", ["f"], null]);
});

it("told again it names its first telling; taken after all its sheet begins with what was seen", () => {
  const again = leftAgain(LEFT, { note: "", photos: ["f"], taken: true });
  expect([again.corrects, again.taken, again.findings]).toEqual(["l", true, LEFT.findings]);
  const sheet = takenAfterAll(LEFT);
  expect([sheet.tins, sheet.findings, sheet.photos, sheet.label]).toEqual([
    LEFT.tins,
    LEFT.findings,
    ["f"],
    "",
  ]);
});
