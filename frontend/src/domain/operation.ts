/**
 * One operation as a device makes it, once; it never changes, an edit is a new one. Pure.
 *
 * The shapes of the payloads are those of the server's custody wire; which of its fields are told
 * is up to whoever enters it. `happened_at` is the device's clock; `stamp` is made by `nextStamp`.
 */

import type { PlantTelling } from "./plantTelling";
import type { RunTelling } from "./runTelling";
import type { CountScrap, LeaveHere, Original, PickUp } from "./taken";

export type * from "./taken";

export interface Envelope {
  id: string;
  incarnation: string;
  sequence: number;
  kind: string;
  version: number;
  by: string;
  happened_at: string;
  stamp: number;
  payload: object;
}

/** A lost or spoiled label gives way to another on the same casing. */
export interface Relabel {
  label: string;
  now: string;
  why: "lost" | "spoiled";
  known_by?: string;
  photos?: string[];
}

/** A step so that the owner of a casing that waits fetches it; `until`: held for them up to then. */
export interface Remind {
  label: string;
  step: "called" | "written" | "hold";
  said?: string;
  until?: string | null;
}

export interface Withdraw {
  pickup: string;
  withdraws: Original;
  reason: string;
}

export type Refused = "" | "count" | "condition" | "authority" | "other";

/** How a visit was signed for; where nobody did, `unsigned` says why. */
export interface SignedFor {
  /** Nobody of the customer's was at hand. */
  nobody_there?: boolean;
  signer?: string;
  /** The language of the list that was signed. */
  signed_in?: "" | "en" | "es";
  /** They will not sign, and the key of why. */
  refused?: Refused;
  unsigned?: string;
  /** The drawn signature, a photo's hash. */
  signature?: string | null;
  /** The hash of the list that was shown: see `shown.ts`. */
  shown?: string | null;
}

/** A whole trailer taken closed; `left` is the one that stands in its place. */
export interface Trailer {
  number: string;
  seal?: string;
  left?: string;
}

export interface FinishPickup extends SignedFor {
  pickup: string;
  yard: string;
  casings: string[];
  /** The count_scrap and leave_here operations that stand in it, by their first tellings. */
  scrap?: string[];
  left?: string[];
  store?: string | null;
  customer_count?: number | null;
  trailer?: Trailer | null;
  /** Left as a deposit at a counter, in hundredths of the dealer's currency; how, or its slip. */
  deposit_cents?: number | null;
  deposit_note?: string;
  /** Opens this visit's receipt to who has it: see `receiptLink.ts`. */
  receipt_key?: string;
  note?: string;
  photos?: string[];
}

/** A trailer that was taken closed is emptied: the list of its pickup, told where it is opened. */
export interface EmptyTrailer {
  pickup: string;
  yard: string;
  casings: string[];
  scrap?: string[];
  left?: string[];
  store?: string | null;
  /** As it was read back before it was cut, and what it was like. */
  seal?: string;
  seal_state?: "" | "whole" | "broken" | "missing";
  /** How many casings came out, by who emptied it. */
  counted?: number | null;
  note?: string;
  photos?: string[];
}

/** A holder is `person:`, `site:` (a store's rack), `plant:` or `customer:` and an id. */
export interface HandOver {
  label: string;
  way: "in" | "out";
  giver: string;
  taker: string;
  note?: string;
  photos?: string[];
}

export interface Deliver {
  delivery: string;
  yard: string;
  label: string;
  store?: string | null;
  note?: string;
  photos?: string[];
}

export interface FinishDelivery extends SignedFor {
  delivery: string;
  yard: string;
  casings: string[];
  store?: string | null;
  /** As of a pickup. */
  receipt_key?: string;
  note?: string;
  photos?: string[];
}

/** What a person enters, before the outbox gives it its place in the order. */
export type Telling =
  | { kind: "custody.pick_up"; version: 4; payload: PickUp }
  | { kind: "custody.withdraw"; version: 1; payload: Withdraw }
  | { kind: "custody.relabel"; version: 1; payload: Relabel }
  | { kind: "custody.remind"; version: 1; payload: Remind }
  | { kind: "custody.count_scrap"; version: 1; payload: CountScrap }
  | { kind: "custody.leave_here"; version: 1; payload: LeaveHere }
  | { kind: "custody.finish_pickup"; version: 5; payload: FinishPickup }
  | { kind: "custody.empty_trailer"; version: 1; payload: EmptyTrailer }
  | { kind: "custody.hand_over"; version: 1; payload: HandOver }
  | { kind: "custody.deliver"; version: 2; payload: Deliver }
  | { kind: "custody.finish_delivery"; version: 5; payload: FinishDelivery }
  | PlantTelling
  | RunTelling;

export const OPERATION_BYTES = 64 * 1024;
export const PHOTO_BYTES = 1024 * 1024;
/** The greatest depth a tread key tells, in 32nds of an inch. */
export const DEEPEST_32NDS = 30;

export const pickUp = (payload: PickUp): Telling => ({
  kind: "custody.pick_up",
  version: 4,
  payload,
});

export const relabel = (payload: Relabel): Telling => ({
  kind: "custody.relabel",
  version: 1,
  payload,
});

export const remind = (payload: Remind): Telling => ({
  kind: "custody.remind",
  version: 1,
  payload,
});

export const withdraw = (payload: Withdraw): Telling => ({
  kind: "custody.withdraw",
  version: 1,
  payload,
});

export const countScrap = (payload: CountScrap): Telling => ({
  kind: "custody.count_scrap",
  version: 1,
  payload,
});

export const leaveHere = (payload: LeaveHere): Telling => ({
  kind: "custody.leave_here",
  version: 1,
  payload,
});

export const finishPickup = (payload: FinishPickup): Telling => ({
  kind: "custody.finish_pickup",
  version: 5,
  payload,
});

export const emptyTrailer = (payload: EmptyTrailer): Telling => ({
  kind: "custody.empty_trailer",
  version: 1,
  payload,
});

export const handOver = (payload: HandOver): Telling => ({
  kind: "custody.hand_over",
  version: 1,
  payload,
});

export const deliver = (payload: Deliver): Telling => ({
  kind: "custody.deliver",
  version: 2,
  payload,
});

export const finishDelivery = (payload: FinishDelivery): Telling => ({
  kind: "custody.finish_delivery",
  version: 5,
  payload,
});

/** The stamp of the next operation: it rises strictly, whatever the clock does. */
export const nextStamp = (last: number, clockMs: number, offsetMs: number): number =>
  Math.max(last + 1, Math.round(clockMs + offsetMs), 1);

/** An instant as the wire writes it: UTC, milliseconds, `Z` (RFC 3339). */
export const instant = (ms: number): string => new Date(ms).toISOString();

/** The whole operation in the order of fields that the golden messages show. */
export function envelope(
  place: { id: string; incarnation: string; sequence: number; stamp: number },
  told: { telling: Telling; by: string; at: number },
): Envelope {
  return {
    id: place.id,
    incarnation: place.incarnation,
    sequence: place.sequence,
    kind: told.telling.kind,
    version: told.telling.version,
    by: told.by,
    happened_at: instant(told.at),
    stamp: place.stamp,
    payload: told.telling.payload,
  };
}
