/** A step about a casing that waits, in words. */
import type { Snapshot } from "../../bridge/snapshot";
import type { Next, Reminder } from "../../domain/reminding";
import { dayInWords, when } from "../words";
import { counterWords } from "./words";

export function stepSaid(now: Snapshot, { step, at, by, said, until, decision }: Reminder): string {
  const w = counterWords.value;
  const who = now.people.find((one) => one.id === by)?.name ?? w.step_nobody;
  const told = {
    called: w.step_called,
    written: w.step_written,
    hold: w.step_hold,
    decided: w.step_decided,
  }[step](when(at), who);
  return [
    decision === "" ? told : `${told}: ${w.decisions[decision] ?? decision}`,
    said === "" ? "" : `“${said}”`,
    until === null ? "" : w.step_until(dayInWords(until)),
  ]
    .filter(Boolean)
    .join(", ");
}

export function nextSaid({ what, until }: Next): string {
  const w = counterWords.value;
  if (what === "wait") return w.next_wait(dayInWords(until ?? ""));
  return { call: w.next_call, write: w.next_write, decide: w.next_decide, decided: w.next_decided }[
    what
  ];
}
