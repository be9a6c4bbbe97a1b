/**
 * What comes next for a casing that waits for its owner: a call, a written notice, a decision of the
 * office, or nothing until a day. Twin of the server's custody.reminding; no step, and no silence,
 * changes whose the casing is. Days are written as 2026-04-21. Pure.
 */

/** A step as the rows tell it. `by`: a person's id; `decision`: of the office, with `said` as its
 * grounds; `until`: held for its owner up to that day. */
export interface Reminder {
  step: "called" | "written" | "hold" | "decided";
  at: string;
  by: string;
  said: string;
  until: string | null;
  decision: string;
}

/** After how many days a step is proposed, and how long a notice says that a casing is held. */
export interface UnclaimedDays {
  call: number;
  write: number;
  hold: number;
}

/** As long as the office has not told them: our own figures, common practice, no published source. */
export const USUAL_DAYS: UnclaimedDays = { call: 7, write: 14, hold: 30 };

export interface Step {
  step: Reminder["step"];
  on: string;
  until: string | null;
  decision: string;
}

export interface Next {
  what: "wait" | "call" | "write" | "decide" | "decided";
  /** Until when it waits. */
  until: string | null;
}

export function nextStep(
  told: Step[],
  { since, today, days }: { since: string; today: string; days: UnclaimedDays },
): Next {
  const held = told.findLast(({ until }) => until !== null)?.until ?? null;
  if (held !== null && held >= today) return { what: "wait", until: held };
  const last = told.at(-1);
  if (last?.step === "decided" && last.decision !== "keep") return { what: "decided", until: null };
  const due = (what: "call" | "write", on: string): Next =>
    on <= today ? { what, until: null } : { what: "wait", until: on };
  const called = told.findLast(({ step }) => step === "called");
  // What a clock that is ahead has told counts as of today.
  const past = (day: string): string => (day < today ? day : today);
  if (called === undefined) return due("call", later(past(since), days.call));
  if (!told.some(({ step }) => step === "written"))
    return due("write", later(past(called.on), days.write));
  return { what: "decide", until: null };
}

/** A day some days later. */
export function later(day: string, by: number): string {
  const at = new Date(`${day}T00:00:00Z`);
  at.setUTCDate(at.getUTCDate() + by);
  return at.toISOString().slice(0, 10);
}

/** How many days from one day to another. */
export const daysBetween = (from: string, to: string): number =>
  Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / 86_400_000);
