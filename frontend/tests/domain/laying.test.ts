/** A correction that waits on this phone, laid over the row that it corrects. */
import { expect, it } from "vitest";
import type { Envelope } from "../../src/domain/operation";
import { view } from "../../src/domain/view";

const FINDING = { zone: "crown", kind: "cut", side: "", mm: 5, count: 1, photos: [] };
const BODY = {
  pickup: "p",
  yard: "y",
  label: "K72K54X2",
  picked_up_under: "K72K54X2",
  line: "adjustment",
  tins: [{ tin: "4B08 4DHR 1019", made: "new" }],
  brand: "Corvane",
  treads_32nds: [[9]],
  findings: [FINDING],
  position: "steer",
  odometer: 1000,
  complaint: "tread came off",
  note: "old",
  progress: "picked_up",
  picked_up_at: "2026-11-01T00:00:00Z",
};

function corrected(version: number, payload: object) {
  const operation = {
    id: "o",
    kind: "custody.pick_up",
    version,
    by: "b",
    happened_at: "2026-11-02T00:00:00Z",
    stamp: 5,
    payload: { pickup: "p", yard: "y", corrects: { fact: "c", label: "K72K54X2" }, ...payload },
  } as unknown as Envelope;
  const rows = [{ entity: "work_order", id: "c", body: BODY }];
  const told = { operation, standing: "waiting" as const, held: false, seen: false, entered_at: 1 };
  return view(rows, [told]).casings.get("c");
}

it("of an earlier version it changes what that could say, and nothing else", () => {
  const told = { label: "K72K54X2", tin: "2910", tread_32nds: [7], note: "new" };
  expect(corrected(2, told)).toMatchObject({
    tins: [{ tin: "2910", made: "" }],
    treads_32nds: [[7]],
    note: "new",
    line: "adjustment",
    brand: "Corvane",
    findings: [FINDING],
    position: "steer",
    odometer: 1000,
    complaint: "tread came off",
  });
});

it("what it says is empty is empty", () => {
  const told = { label: "K72K54X2", tins: [], brand: "", findings: [], odometer: null };
  expect(corrected(3, told)).toMatchObject({ tins: [], brand: "", findings: [], odometer: null });
});
