/**
 * What the symbols in one picture of the camera amount to. Pure.
 *
 * A label's square holds a link, its bars the bare code. Of a link only the path counts, whatever
 * its host: /L/CODE. Any other link is not ours, even if its last part would pass the check.
 */
import { fault, LENGTH, type LabelFault, tidy } from "./labels";

export type Sighting =
  | { what: "nothing" }
  | { what: "label"; code: string }
  /** More than one label in the picture: which one is meant cannot be told. */
  | { what: "several"; codes: string[] }
  /** It has the form of a label, and is none. */
  | { what: "wrong"; text: string; fault: LabelFault }
  | { what: "not_ours"; text: string };

const LINK = /^(?:[a-z][a-z0-9+.-]*:)?\/\/[^/]*\/L\/([^/?#]+)\/?(?:[?#].*)?$/i;

/** The code that one symbol holds, tidied; null where it does not even look like a label. */
export function codeIn(text: string): string | null {
  const link = LINK.exec(text.trim());
  if (link !== null) return tidy(link[1]!);
  return /[/:?#]/.test(text) ? null : tidy(text);
}

export function sighted(texts: string[]): Sighting {
  const sound = new Set<string>();
  let other: Sighting = { what: "nothing" };
  for (const text of texts) {
    if (text.trim() === "") continue;
    const code = codeIn(text);
    const wrong = code === null ? null : fault(code);
    if (code !== null && wrong === null) sound.add(code);
    else if (code !== null && wrong !== null && likeALabel(text, code))
      other = { what: "wrong", text: code, fault: wrong };
    else if (other.what === "nothing") other = { what: "not_ours", text: text.trim() };
  }
  const codes = [...sound];
  if (codes.length > 1) return { what: "several", codes };
  return codes.length === 1 ? { what: "label", code: codes[0]! } : other;
}

/** Tells a label that has come into sight from one that is still there. */
export interface Comings {
  /** True where the label was not in sight a moment ago. */
  comes(code: string, atMs: number): boolean;
  /** The last one may still be in sight, though nobody has looked meanwhile. */
  stays(atMs: number): void;
}

export function comings(lingerMs: number): Comings {
  let last = "";
  let at = Number.NEGATIVE_INFINITY;
  return {
    comes(code, atMs) {
      const fresh = code !== last || atMs - at > lingerMs;
      last = code;
      at = atMs;
      return fresh;
    },
    stays(atMs) {
      at = atMs;
    },
  };
}

const likeALabel = (text: string, code: string): boolean =>
  LINK.test(text.trim()) || [...code].length === LENGTH;
