/** Ids and chance: what must never repeat on a device, and must repeat in a test. */
import { uuid7 } from "../domain/uuid7";
import type { Clock } from "./clock";

export interface Ids {
  /** A new UUIDv7. */
  next(): string;
  /** A number from 0 up to 1, to spread retries. */
  chance(): number;
}

export const systemIds = (clock: Clock): Ids => ({
  next: () => uuid7(clock.now(), crypto.getRandomValues(new Uint8Array(10))),
  chance: () => Math.random(),
});
