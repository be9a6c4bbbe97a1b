/**
 * A clock that moves only when told, and owns its timers. `set` jumps it, as a person does who
 * corrects a phone's date; `advance` lets time pass and fires what falls due, in order.
 */
import type { Clock } from "../../src/ports/clock";

export class FakeClock implements Clock {
  /** Time that really passes; `shift` is how far the device's idea of it is off. */
  private passed: number;
  private shift = 0;
  private timers: { at: number; then: () => void }[] = [];

  constructor(at: string | number = "2026-04-14T13:40:07.250Z") {
    this.passed = new Date(at).getTime();
  }

  now(): number {
    return this.passed + this.shift;
  }

  trueNow(): number {
    return this.passed;
  }

  after(ms: number, then: () => void): () => void {
    const timer = { at: this.passed + ms, then };
    this.timers.push(timer);
    return () => {
      this.timers = this.timers.filter((other) => other !== timer);
    };
  }

  set(at: string): void {
    this.shift = new Date(at).getTime() - this.passed;
  }

  jump(ms: number): void {
    this.shift += ms;
  }

  advance(ms: number): void {
    const until = this.passed + ms;
    for (;;) {
      const due = this.timers.filter((t) => t.at <= until).sort((a, b) => a.at - b.at)[0];
      if (due === undefined) break;
      this.timers = this.timers.filter((other) => other !== due);
      this.passed = Math.max(this.passed, due.at);
      due.then();
    }
    this.passed = until;
  }

  /** How long until the next timer, or null where none runs. */
  nextInMs(): number | null {
    if (this.timers.length === 0) return null;
    return Math.min(...this.timers.map((t) => t.at)) - this.passed;
  }
}
