/** A station's sheet and its scans: nothing of one casing goes to the next, nothing typed is lost. */
import { expect, it, vi } from "vitest";
import {
  type AnswerFields,
  BLANK_ANSWER,
  type Find,
  isUntouched,
  missing,
  NOTE_MOST,
  told as tellOf,
} from "../../src/plant/answer";
import { loadAt } from "../../src/plant/casing/loadAt";
import { nextScan } from "../../src/plant/nextScan";
import { loadFrom, routeFrom, unheard, type Work, workFrom } from "../../src/plant/rows";
import { doneAt, isOnRoute, moreAt, stationName, stationsOf } from "../../src/plant/stations";
import { K1, K2, K3 } from "./things";

vi.stubGlobal("navigator", { language: "en" });
vi.stubGlobal("document", { documentElement: {} });
const { language } = await import("../../src/pickups/words");
const { differenceSaid } = await import("../../src/plant/against");
const { photosOff } = await import("../../src/plant/findings");
const { floorWords } = await import("../../src/plant/words");

const typed = (some: Partial<AnswerFields>): AnswerFields => ({
  ...BLANK_ANSWER,
  label: K1,
  ...some,
});
const at = {
  work: unheard(K1),
  works: new Map<string, Work>(),
  more: [],
  lots: [],
  materials: [],
  load: "",
  differs: false,
  behind: false,
  without: false,
};
const given = { station: "buffing", more: [], machine: "", lots: [], load: "", photos: [] };
const find = (photos: string[]): Find => ({
  zone: "bead",
  side: "",
  kind: "cut",
  size_mm: null,
  count: 1,
  photos,
});

it("a sheet that holds a photo is no empty one; a find that is taken off takes its photo along", () => {
  expect(isUntouched(typed({}), 0)).toBe(true);
  expect(isUntouched(typed({}), 1)).toBe(false);
  const all = [find(["a", "b"]), find(["b"])];
  expect(photosOff(all, 0)).toEqual(["a"]);
  expect(photosOff(all, 1)).toEqual([]);
});

it("the label of another casing, or an old one of its own, is no finished tag", () => {
  const worn = workFrom("w1", { uid: "w1", label: K1, labels: [K3] });
  const other = workFrom("w2", { uid: "w2", label: K2, labels: [K2] });
  const works = new Map([...worn.labels.map((one): [string, Work] => [one, worn]), [K2, other]]);
  const paint = { ...at, work: worn, works, more: ["tag" as const] };
  expect(missing("finished", typed({ tag: K2 }), paint)).toBe("tag_taken");
  expect(missing("finished", typed({ label: K3, tag: K1 }), paint)).toBe("tag_same");
  works.delete(K2);
  expect(missing("finished", typed({ tag: K2 }), paint)).toBeNull();
});

it("while a casing is answered a scan is its tag, its envelope, or another casing", () => {
  const worn = workFrom("w1", { uid: "w1", label: K1, labels: [K1] });
  const other = workFrom("w2", { uid: "w2", label: K2, labels: [K2] });
  const works = new Map([
    [K1, worn],
    [K2, other],
  ]);
  const scan = (text: string, code: string | null, more: ReturnType<typeof moreAt>) =>
    nextScan({ text, code }, { label: K1, works, more });
  expect(scan(K1, K1, ["tag"])).toEqual({ is: "again" });
  expect(scan(K2, K2, ["tag"])).toEqual({ is: "another", label: K2 });
  expect(scan(K3, K3, ["tag"])).toEqual({ is: "tag", label: K3 });
  expect(scan(K3, K3, [])).toEqual({ is: "another", label: K3 });
  expect(scan(" E-14 ", null, ["envelope"])).toEqual({ is: "envelope", number: "E-14" });
  // A barcode of something else is longer than any number that can be told.
  expect(scan("9".repeat(41), null, ["envelope"])).toEqual({ is: "none", text: "9".repeat(40) });
  expect(scan("x", null, [])).toEqual({ is: "none", text: "x" });
});

it("a casing at curing or stripping passes with its own load, the chosen one, or none yet", () => {
  const load = (uid: string, more: object = {}) =>
    loadFrom(uid, { uid, number: `26-${uid}`, state: "setting", ...more });
  const holds = load("a", { set_in: [{ label: K1 }] });
  const all = [holds, load("b"), load("c", { state: "out" })];
  const casing = { worn: K2, station: "curing", loads: all };
  expect(loadAt({ ...casing, chosen: "" })).toBeNull();
  expect(loadAt({ ...casing, chosen: "b" })?.number).toBe("26-b");
  // What is over is not set in any more, whatever was chosen for the casings before.
  expect(loadAt({ ...casing, chosen: "c" })).toBeNull();
  expect(loadAt({ ...casing, worn: K1, chosen: "b" })?.number).toBe("26-a");
  const told = { ...load("t"), also: ["here"] };
  expect(loadAt({ ...casing, loads: [told], chosen: "here" })).toBe(told);
  expect(loadAt({ ...casing, station: "stripping", worn: K1, chosen: "" })?.number).toBe("26-a");
});

it("a station that the route does not name any more is no place to stand at", () => {
  const route = routeOf("receiving", "buff-1", "shipping");
  expect(isOnRoute("buff-1", route)).toBe(true);
  expect(isOnRoute("buffing", route)).toBe(false);
  expect(isOnRoute("buffing", null)).toBe(true);
  expect(isOnRoute("buffing", routeOf())).toBe(true);
});

const routeOf = (...codes: string[]) =>
  routeFrom(
    [
      {
        entity: "plant_route",
        id: "p",
        body: {
          stations: codes.map((code, place) => ({
            code,
            name: `Bay ${place}`,
            place,
            scans: code !== "cementing",
            optional: code === "final-ndt",
          })),
        },
      },
    ],
    "p",
  );

it("where no station paints, the last one before shipping finishes, and asks for the tag", () => {
  const bare = stationsOf(
    routeOf("buffing", "curing", "final-inspection", "final-ndt", "shipping"),
  );
  expect(doneAt("final-inspection", bare)).toBe("finished");
  expect(moreAt("final-inspection", bare)).toEqual(["built", "tag"]);
  expect(["curing", "final-ndt", "shipping"].map((one) => doneAt(one, bare))).toEqual([
    "passed",
    "passed",
    "shipped",
  ]);
  const usual = stationsOf(null);
  expect(doneAt("final-inspection", usual)).toBe("passed");
  expect(doneAt("paint", usual)).toBe("finished");
  expect(moreAt("paint", usual)).toEqual(["tag"]);
});

it("why it goes on and why it is held are two texts, and both are told", () => {
  const fields = typed({ differs_note: " customer called ", note: "odd bead" });
  expect(tellOf("passed", fields, given).note).toBe("odd bead · customer called");
  expect(tellOf("passed", typed({ differs_note: "called" }), given).note).toBe("called");
  const read = typed({ tread_design: "DL-41", retread_tin: "R7HK2126", note: "odd bead" });
  const built = { ...at, more: ["built" as const], differs: true };
  expect(missing("passed", read, built)).toBe("differences");
  expect(missing("passed", { ...read, differs_note: "called" }, built)).toBeNull();
  const long = typed({
    differs_note: "d".repeat(NOTE_MOST.differs),
    note: "n".repeat(NOTE_MOST.why),
  });
  expect(tellOf("hold", long, given).note!.length).toBeLessThanOrEqual(500);
});

it("a figure that is none is asked about whatever the answer is, but a release", () => {
  const off = typed({ gauges: { circumference_mm: "33100" }, reason: "ZIPPER", cause: "casing" });
  for (const outcome of ["passed", "repair", "rejected", "hold"] as const)
    expect(missing(outcome, { ...off, note: "n" }, at), outcome).toBe("gauge");
  expect(missing("released", { ...off, note: "n" }, at)).toBeNull();
});

it("work without a lot is asked about once", () => {
  const gum = { ...at, materials: ["cushion_gum" as const] };
  expect(missing("passed", typed({}), gum)).toBe("lots");
  expect(missing("passed", typed({}), { ...gum, without: true })).toBeNull();
  const lots = [{ kind: "cushion_gum" as const, number: "G-1" }];
  expect(missing("passed", typed({}), { ...gum, lots })).toBeNull();
  expect(missing("repair", typed({}), gum)).toBeNull();
});

it("an open count of caps is said in the words of each language, not as it is carried", () => {
  const differs = { field: "caps", ordered: "2+", found: "1" };
  expect(differenceSaid(differs)).toContain("ordered 2 or more, found 1");
  language.value = "es";
  expect(differenceSaid(differs)).toContain("pedido 2 o más, leído 1");
  expect(differenceSaid({ ...differs, ordered: "2-3" })).toContain("pedido 2-3, leído 1");
  language.value = "en";
});

it("a station bears the plant's own name wherever it is said, and there is no other way to say it", () => {
  const route = routeOf("receiving", "repair-2");
  expect(stationName("repair-2", route, "en")).toBe("Bay 1");
  expect(floorWords.value).not.toHaveProperty("station");
});
