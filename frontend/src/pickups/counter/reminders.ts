/**
 * What waits here to be fetched, since when, and what comes next for an owner: the furthest of what
 * is next for each of the casings, so that one call is for all of them. Pure.
 */
import { dayOf } from "../../domain/promise";
import { daysBetween, type Next, nextStep, type UnclaimedDays } from "../../domain/reminding";
import type { Casing } from "../../domain/rows";
import { telUri } from "../../domain/ways";

/** Owners fetch it at the counter; the rest goes home by our own truck, and nobody is called. */
export const isFetched = (casing: Casing): boolean => casing.back_to === "store";

export const hereSince = (casing: Casing): string =>
  dayOf(Date.parse(casing.here_since || casing.picked_up_at));

/** For how many days it has waited here; where nobody told when it came, since it was taken in. */
export const daysHere = (casing: Casing, today: string): number =>
  Math.max(0, daysBetween(hereSince(casing), today));

export function nextOf(casing: Casing, today: string, days: UnclaimedDays): Next {
  const told = casing.reminders.map(({ step, at, until, decision }) => ({
    step,
    on: dayOf(Date.parse(at)),
    until,
    decision,
  }));
  return nextStep(told, { since: hereSince(casing), today, days });
}

const ORDER: Next["what"][] = ["wait", "decided", "call", "write", "decide"];

/** Null where nothing of theirs is to be fetched. Of waits, the one that ends first. */
export function nextFor(casings: Casing[], today: string, days: UnclaimedDays): Next | null {
  const all = casings.filter(isFetched).map((casing) => nextOf(casing, today, days));
  const order = ({ what, until }: Next): [number, string] => [-ORDER.indexOf(what), until ?? ""];
  return (
    all.sort((a, b) => {
      const [left, right] = [order(a), order(b)];
      return left[0] - right[0] || (left[1] < right[1] ? -1 : 1);
    })[0] ?? null
  );
}

/** The last step told of any of them. */
export const lastStep = (casings: Casing[]) =>
  casings
    .flatMap(({ reminders }) => reminders)
    .reduce<Casing["reminders"][number] | null>(
      (last, one) => (last === null || one.at > last.at ? one : last),
      null,
    );

export interface Contact {
  name: string;
  phone: string;
  /** As it is dialled, its extension with it. */
  tel: string;
}

/** Whom to call, each number once. */
export function contactsOf(
  yards: { contact_name?: string; contact_phone?: string; customer_name: string }[],
): Contact[] {
  const found = new Map<string, Contact>();
  for (const { contact_name = "", contact_phone = "", customer_name } of yards) {
    const tel = telUri(contact_phone);
    if (tel !== null && !found.has(tel))
      found.set(tel, { name: contact_name || customer_name, phone: contact_phone, tel });
  }
  return [...found.values()];
}
