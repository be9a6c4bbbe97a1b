/** A trailer taken closed, and emptied later: what is filled in, what it lacks, what is told. Pure. */
import type { Trailer } from "../../../domain/operation";
import { BLANK_SIGNING, type SigningFields } from "../../signing/signing";
import type { Words } from "../../words.en";
import { customerCount } from "../counts";

export const trailerKey = (pickup: string): string => `trailer:${pickup}`;
export const emptyingKey = (pickup: string): string => `emptying:${pickup}`;

/** What the wire takes of a number. */
export const NUMBER_MOST = 40;

export interface TrailerFields extends SigningFields {
  number: string;
  seal: string;
  left: string;
  count: string;
  photos: string[];
}

export const BLANK_TRAILER: TrailerFields = {
  number: "",
  seal: "",
  left: "",
  count: "",
  photos: [],
  ...BLANK_SIGNING,
};

export interface TrailerFault {
  /** The id of the field to go to. */
  at: "trailer-number" | "trailer-left" | "customer-count";
  said: string;
}

/** Two numbers are one whatever the spaces and capitals. */
export const same = (a: string, b: string): boolean => bare(a) === bare(b);
const bare = (number: string): string => number.replace(/\s+/g, "").toLocaleUpperCase();

export function trailerFault(fields: TrailerFields, w: Words): TrailerFault | null {
  const { number, left, count } = fields;
  if (number.trim() === "") return { at: "trailer-number", said: w.trailer_number_missing };
  if (left.trim() !== "" && same(number, left))
    return { at: "trailer-left", said: w.trailer_same(left.trim()) };
  if (customerCount(count) === "none")
    return { at: "customer-count", said: w.finish_number(count.trim().slice(0, 20)) };
  return null;
}

export const trailerOf = ({ number, seal, left }: TrailerFields): Trailer => ({
  number: number.trim(),
  seal: seal.trim(),
  left: left.trim(),
});

/**
 * What is signed for a closed trailer: one line with its numbers and the count, in place of labels.
 * Only the phone reads it: another number or count after the signature has it signed again.
 */
export const trailerLine = (fields: TrailerFields): { label: string; on: string } => {
  const { number, seal, left } = trailerOf(fields);
  return { label: [`trailer ${number}`, seal, left, fields.count.trim()].join(" / "), on: "" };
};

export type SealState = "" | "whole" | "broken" | "missing";

export interface Emptying {
  seal: string;
  state: SealState;
  count: string;
  /** The seal was read and the count is kept: labelling may begin. */
  opened: boolean;
  /** Where it is emptied; empty: where this device belongs. */
  site: string;
  note: string;
  photos: string[];
}

export const BLANK_EMPTYING: Emptying = {
  seal: "",
  state: "",
  count: "",
  opened: false,
  site: "",
  note: "",
  photos: [],
};

export interface EmptyingFault {
  at: "seal" | "seal-state" | "own-count";
  said: string;
}

/** Why it cannot be opened yet: the seal comes first, then the count. */
export function emptyingFault({ seal, state, count }: Emptying, w: Words): EmptyingFault | null {
  if (state === "") return { at: "seal-state", said: w.empty_seal_state_missing };
  if (state !== "missing" && seal.trim() === "") return { at: "seal", said: w.empty_seal_missing };
  const counted = customerCount(count);
  if (counted === null) return { at: "own-count", said: w.empty_count_missing };
  return counted === "none"
    ? { at: "own-count", said: w.finish_number(count.trim().slice(0, 20)) }
    : null;
}

/** What is odd about the seal, once both are known; null where it is the one that was told. */
export function sealOdd(told: string, { seal, state }: Emptying, w: Words): string | null {
  if (state === "missing" || seal.trim() === "") return null;
  if (told.trim() === "") return w.empty_seal_told_none;
  return same(told, seal) ? null : w.empty_seal_other(told.trim());
}
