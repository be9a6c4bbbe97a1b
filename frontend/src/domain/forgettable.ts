/**
 * What this phone may forget of what it told, before its 30 days are over: nothing that a screen
 * still reads. Pure.
 *
 * The server's rows show a casing and a visit, but not the lines of a delivery that is still open,
 * the scans of a load or an unloading, or the key of a receipt: those live in what was told here.
 */
import type { Envelope } from "./operation";

/** A day's screens look back over that day; our own figure. */
export const FORGET_AFTER_MS = 24 * 3600 * 1000;

export interface Spoken {
  operation: Envelope;
  entered_at: number;
}

interface Of {
  pickup?: string | null;
  delivery?: string | null;
  receipt_key?: string;
}

const visitOf = ({ payload }: Envelope): string | null =>
  (payload as Of).pickup ?? (payload as Of).delivery ?? null;

/**
 * The ids of those of `candidates` that may go, the oldest first. `told` is all that this phone
 * remembers, waiting or answered; `counting`: a load or an unloading is half told.
 */
export function forgettable(
  candidates: Spoken[],
  told: Envelope[],
  { now, counting }: { now: number; counting: boolean },
): string[] {
  const ended = new Set(
    told
      .filter(({ kind }) => kind === "custody.finish_pickup" || kind === "custody.finish_delivery")
      .map(visitOf),
  );
  return candidates
    .filter(({ operation, entered_at }) => {
      if (now - entered_at < FORGET_AFTER_MS) return false;
      const visit = visitOf(operation);
      if (visit !== null && !ended.has(visit)) return false;
      if (counting && operation.kind === "custody.hand_over") return false;
      // It opens the receipt as long as it is remembered here anyway.
      return !(operation.payload as Of).receipt_key;
    })
    .sort((a, b) => a.entered_at - b.entered_at)
    .map(({ operation }) => operation.id);
}
