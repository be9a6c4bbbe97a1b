/** A replaced label as it is filled in: what is asked, and what has to be said before it is told. Pure. */
import type { Relabel } from "../../domain/operation";
import type { Words } from "../words.en";

export interface RelabelFields {
  /** "" until it is said: a label that was lost may turn up, one that was spoiled does not. */
  why: "" | Relabel["why"];
  typed: string;
  known_by: string;
  photos: string[];
}

export const BLANK: RelabelFields = { why: "", typed: "", known_by: "", photos: [] };

/** What is not said yet, in words; `at` is the id of the first place to go to. */
export function unsaid(
  fields: Pick<RelabelFields, "why" | "known_by">,
  w: Words,
): { why: string | null; known_by: string | null; at: "relabel-why" | "known-by" | null } {
  const why = fields.why === "" ? w.relabel_why_missing : null;
  const knownBy = fields.known_by.trim() === "" ? w.relabel_known_by_missing : null;
  const at = why !== null ? "relabel-why" : knownBy !== null ? "known-by" : null;
  return { why, known_by: knownBy, at };
}
