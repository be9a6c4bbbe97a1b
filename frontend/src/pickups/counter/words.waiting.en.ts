/** What is read at a counter of deposits and of what waits for its owner, in English. */
import { counted } from "../plural";

const days = (n: number) => counted(n, "day", "days");

export const waiting = {
  deposit: "Deposit",
  deposit_hint: "Amount, then how: 50 cash, slip 88. Empty if there is none",
  deposit_back: (said: string) => `Noted as ${said}`,
  deposit_fault: (typed: string) =>
    `“${typed}”: the amount first, 0.01 to 99999.99, then a space and how, up to 40 characters.`,
  deposit_ticket: (said: string) => `Deposit left: ${said}.`,
  deposit_left: (said: string, day: string) =>
    `Deposit left on ${day}: ${said}. Give it back or count it in.`,

  ticket_pdf: "As a PDF",
  ticket_pdf_none:
    "No PDF now: the server draws it once this drop-off has been sent and nothing about it is in question. Print this page instead.",

  here_days: (n: number) => (n === 0 ? "here since today" : `here ${days(n)}`),
  taken_days: (n: number) => (n === 0 ? "taken in today" : `taken in ${days(n)} ago`),
  next_call: "Call them",
  next_write: "Write to them",
  next_decide: "The office decides",
  next_decided: "The office has decided",
  next_wait: (day: string) => `Nothing before ${day}`,
  remind_title: (name: string) => `${name}: to be fetched`,
  remind_call: (name: string, phone: string) => `Call ${name}, ${phone}`,
  remind_no_number:
    "No number of theirs is known here. The office enters one with the customer's contacts.",
  remind_none: "Nothing of theirs waits here to be fetched.",
  remind_what: "What was done?",
  remind_steps: {
    called: "Called",
    written: "A notice is to go out",
    hold: "Hold it longer",
  } as Record<string, string>,
  remind_whom: "Spoke with",
  remind_said: "What was said",
  remind_said_hint: "Or that nobody answered",
  remind_why: "Why",
  remind_until: "Held for them until",
  remind_until_called: "If they named a day",
  remind_until_missing:
    "Give the day up to which it is held for them, from today on, 2099 at the latest.",
  remind_said_missing: "Say what they said, or that nobody answered.",
  remind_written_say:
    "It goes out by mail, in their language, to everybody of theirs who gets mail from us: what waits, since when, until when it is held, what is asked. Where nobody of theirs has an address, write by post.",
  remind_do: {
    called: "Note the call",
    written: "Send the notice",
    hold: "Hold it",
  } as Record<string, string>,
  remind_law:
    "They stay their owner's. No reply makes them neither ours nor scrap; the law on unclaimed property differs by state, and the office decides.",
  remind_days: (call: number, write: number) =>
    `Proposed after ${days(call)} here, and ${days(write)} after the last call: common practice, no published source. The office sets it.`,
  step_called: (when: string, who: string) => `${when}, ${who} called`,
  step_written: (when: string, who: string) => `${when}, ${who} had a notice sent`,
  step_hold: (when: string, who: string) => `${when}, ${who} holds it`,
  step_decided: (when: string, who: string) => `${when}, ${who} decided`,
  step_nobody: "somebody",
  step_until: (day: string) => `held until ${day}`,
  decisions: {
    keep: "keep waiting",
    deliver: "bring it back by truck",
    buy: "offer to buy it",
    other: "something else",
  } as Record<string, string>,
};
