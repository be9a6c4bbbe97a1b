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
  /** By casing, the operation that tells of it. */
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
  const missing = until === "" ? step !== "called" : until < today;
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
