/**
 * Which of this phone's operations still lie over the server's rows.
 *
 * One that was answered lies there until a pull has passed its position with nothing more to come.
 * A position of another epoch says nothing about this feed; what is held has no effect to be seen.
 */
import type { Envelope } from "../domain/operation";
import type { Standing } from "../domain/rows";
import type { Told } from "../domain/view";
import type { Told as Kept } from "../store/outbox";
import type { Sent } from "../store/outbox.schema";
import type { Marks } from "../store/replica";

export function overlay(kept: Kept, marks: Marks): Told[] {
  const refused = new Set(kept.refusals.map((refusal) => refusal.id));
  const waiting = kept.entries.map((entry): Told => {
    const standing = refused.has(entry.id) ? "needs_you" : "waiting";
    const operation = JSON.parse(entry.body) as Envelope;
    return { operation, standing, held: false, seen: false, entered_at: entry.entered_at };
  });
  const answered = kept.sent.map(
    (sent): Told => ({
      operation: JSON.parse(sent.body) as Envelope,
      standing: refused.has(sent.id) ? "needs_you" : standing(sent.outcome),
      held: sent.outcome === "held",
      seen: seen(sent, marks),
      entered_at: sent.entered_at,
    }),
  );
  return [...answered, ...waiting];
}

const standing = (outcome: string): Standing =>
  outcome === "contested" || outcome === "held" ? "in_question" : "recorded";

export function seen(sent: Sent, marks: Marks): boolean {
  if (sent.outcome === "held" || marks.seen === null) return false;
  if (sent.epoch !== marks.epoch) return false;
  return sent.position === null || BigInt(sent.position) < BigInt(marks.seen);
}
