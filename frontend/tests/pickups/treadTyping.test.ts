/** Depths by keyboard: as few keys as there are readings, and a scanner types none. */
import { expect, it } from "vitest";
import { type Typed, treadTyping } from "../../src/pickups/yard/treadTyping";

const BY_HAND_MS = 280;
const BY_SCANNER_MS = 8;

function typed(keys: string[], apartMs = BY_HAND_MS): { told: string[]; waits: string } {
  const typing = treadTyping();
  const told = keys.flatMap((key, i) => typing.key(key, 1000 + i * apartMs) ?? []);
  return { told: told.map(short), waits: typing.waits() };
}

const short = (one: Typed): string => (one.told === "depth" ? String(one.depth ?? "-") : one.told);

it.each([
  ["677656", "6 7 7 6 5 6"],
  ["23", "2 3"],
  ["12", "12"],
  ["6126", "6 12 6"],
  ["0206", "2 6"],
  ["10", "10"],
  ["6-7", "6 - 7"],
  ["1-", "1 -"],
  ["666/666", "6 6 6 turn 6 6 6"],
  ["14+", "14 ten_more"],
  ["x6", "scanner 6"],
])("%s is %s", (keys, told) => {
  expect(typed([...keys]).told.join(" ")).toBe(told);
});

it("a 1 or a 0 waits for its second digit, and stands for itself where none comes", () => {
  const typing = treadTyping();
  expect(typing.key("1", 0)).toEqual([]);
  expect(typing.waits()).toBe("1");
  expect(typing.rest()).toEqual([{ told: "depth", depth: 1 }]);
  expect(typing.waits()).toBe("");
  expect(typing.rest()).toEqual([]);
});

it("Enter tells what waits and ends; Backspace drops what waits before it takes anything back", () => {
  expect(typed(["6", "1", "Enter"]).told).toEqual(["6", "1", "end"]);
  expect(typed(["6", "1", "Backspace"])).toEqual({ told: ["6"], waits: "" });
  expect(typed(["6", "Backspace"]).told).toEqual(["6", "back"]);
});

it("keys that are none of ours are left to the page", () => {
  const typing = treadTyping();
  for (const key of ["Tab", "ArrowDown", "Escape", "Shift"]) expect(typing.key(key, 0)).toBeNull();
});

it.each(["K7062R9A", "HTTPS://YARD.EXAMPLE/L/K7062R9A"])(
  "%s from a scanner is no depth",
  (text) => {
    const { told, waits } = typed([...text], BY_SCANNER_MS);
    expect(new Set(told)).toEqual(new Set(["scanner"]));
    expect(waits).toBe("");
  },
);

it("another code, all digits, is taken back once it is too fast for a hand", () => {
  const { told } = typed([..."66666666666"], BY_SCANNER_MS);
  expect(told.slice(0, 7)).toEqual(Array(7).fill("6"));
  expect(new Set(told.slice(7))).toEqual(new Set(["scanner"]));
});
