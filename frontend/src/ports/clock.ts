/** The device's clock and its timers; tests move their own by hand. */

export interface Clock {
  /** Milliseconds since 1970 as this device believes; may jump either way. */
  now(): number;
  /** Calls back once after a while; the answer takes it back. */
  after(ms: number, then: () => void): () => void;
}

export const systemClock: Clock = {
  now: () => Date.now(),
  after(ms, then) {
    const timer = setTimeout(then, ms);
    return () => clearTimeout(timer);
  },
};
