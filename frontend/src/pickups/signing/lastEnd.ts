/** The end of a visit among what this phone has told, read from the bodies as they were sent. */
import type { Envelope, SignedFor } from "../../domain/operation";

/** The visit's end that was told last. */
export function lastEnd(entries: { body: string }[], visit: string): SignedFor | null {
  for (const { body } of [...entries].reverse()) {
    // Most of what was sent is no end of a visit, and not worth reading whole.
    if (!body.includes('"custody.finish_') || !body.includes(visit)) continue;
    const { payload } = JSON.parse(body) as Envelope;
    const { pickup, delivery } = payload as { pickup?: string; delivery?: string };
    if (pickup === visit || delivery === visit) return payload as SignedFor;
  }
  return null;
}
