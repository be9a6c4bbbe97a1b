/** A step about what waits for its owner, as it is being noted and as it is told. Pure. */
import type { Remind } from "../../domain/operation";
import type { Casing } from "../../domain/rows";
import type { CounterWords } from "./words.en";

export interface RemindFields {
  step: Remind["step"];
  /** With whom it was spoken. */
  whom: string;
  said: string;
  /** A day, or "". */
  until: string;
  /** Once it is told: of which casings, each with the operation that tells of it. */
  ids: Record<string, string>;
}

export const BLANK_REMIND: RemindFields = {
  step: "called",
  whom: "",
  said: "",
  until: "",
  ids: {},
};

/** With the name before it still what the wire takes. */
export const SAID_MOST = 370;

/** Up to which the wire takes a day: what lies further ahead was mistyped. */
export const LAST_DAY = "2099-12-31";

export interface RemindFault {
  at: "remind-said" | "remind-until";
  said: string;
}

export function remindFault(
  { step, said, until }: RemindFields,
  today: string,
  w: CounterWords,
): RemindFault | null {
  if (step === "called" && said.trim() === "")
    return { at: "remind-said", said: w.remind_said_missing };
  const missing = until === "" ? step !== "called" : until < today || until > LAST_DAY;
  return missing ? { at: "remind-until", said: w.remind_until_missing } : null;
}

/** One for each casing; of a call with whom it was, before what they said. */
export function remindsOf(
  { step, whom, said, until }: RemindFields,
  casings: Casing[],
): { casing: string; payload: Remind }[] {
  const name = step === "called" ? whom.trim() : "";
  const text = [name, said.trim()].filter(Boolean).join(": ");
  return casings.map(({ id, label }) => ({
    casing: id,
    payload: { label, step, said: text, until: until || null },
  }));
}

/**
 * Of which casings it is told, each under an id of its own, decided once: what was begun and cut off
 * is told of the same ones again, and of none twice. The last has the sheet's own id, by which a
 * sheet that was told to its end is known.
 */
export function idsFor(
  kept: Record<string, string>,
  casings: Casing[],
  { sheet, next }: { sheet: string; next: () => string },
): Record<string, string> {
  if (Object.keys(kept).length > 0) return kept;
  const last = casings.length - 1;
  return Object.fromEntries(casings.map(({ id }, i) => [id, i === last ? sheet : next()]));
}
