/**
 * Depths as a keyboard or its number block tells them. Pure; times are those of the key events.
 *
 * 2 to 9 count at once. 1 and 0 wait a moment for the second digit of 10 to 19, or of 01 to 09.
 * + is ten more on the last reading, for the rare 20 and deeper; - a groove that cannot be read;
 * / the next place; Backspace takes back; Enter is the end. What a scanner types is no depth.
 */
import { LENGTH } from "../../domain/labels";
import { FASTEST_HAND_MS } from "../wedge";

/** How long a 1 or a 0 waits: longer than a key takes a slow hand. */
export const SECOND_DIGIT_MS = 700;

export type Typed =
  | { told: "depth"; depth: number | null }
  | { told: "ten_more" | "turn" | "back" | "end" }
  /** It was a scanner: all that was told since its first key is to be as it was before. */
  | { told: "scanner" };

export interface TreadTyping {
  /** What a key tells; null where it is none of ours. */
  key(key: string, atMs: number): Typed[] | null;
  /** Nothing came after a 1 or a 0: it stands for itself. */
  rest(): Typed[];
  /** The digit that waits for a second one, or "". */
  waits(): string;
  /** The key before began a run of keys. */
  begins(): boolean;
}

export function treadTyping(): TreadTyping {
  let waiting = "";
  let last = Number.NEGATIVE_INFINITY;
  let run = 0;
  let letters = false;

  const depth = (digits: string): Typed => ({ told: "depth", depth: Number(digits) });
  function rest(): Typed[] {
    const told = waiting === "" ? [] : [depth(waiting)];
    waiting = "";
    return told;
  }

  function digit(key: string): Typed[] {
    if (waiting !== "") {
      const whole = depth(waiting + key);
      waiting = "";
      return [whole];
    }
    if (key === "1" || key === "0") {
      waiting = key;
      return [];
    }
    return [depth(key)];
  }

  const others: Record<string, () => Typed[]> = {
    "-": () => [...rest(), { told: "depth", depth: null }],
    "+": () => [...rest(), { told: "ten_more" }],
    "/": () => [...rest(), { told: "turn" }],
    Enter: () => [...rest(), { told: "end" }],
    Backspace() {
      if (waiting === "") return [{ told: "back" }];
      waiting = "";
      return [];
    },
  };

  return {
    rest,
    waits: () => waiting,
    begins: () => run === 1,
    key(key, atMs) {
      if (key.length > 1) return others[key]?.() ?? null;
      const fast = atMs - last <= FASTEST_HAND_MS;
      last = atMs;
      run = fast ? run + 1 : 1;
      letters = (fast && letters) || /[a-z:]/i.test(key);
      if (run >= LENGTH || letters) {
        waiting = "";
        return [{ told: "scanner" }];
      }
      return /[0-9]/.test(key) ? digit(key) : (others[key]?.() ?? null);
    },
  };
}
