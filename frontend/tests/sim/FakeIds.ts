/** Ids that count up and chance that repeats: the same in every run of a test. */
import type { Ids } from "../../src/ports/ids";

export class FakeIds implements Ids {
  private count = 0;
  constructor(
    private readonly given: string[] = [],
    private readonly family = "01963b1c-7a00-7c3e-8d21-",
  ) {}

  next(): string {
    const given = this.given[this.count++];
    return given ?? this.family + this.count.toString(16).padStart(12, "0");
  }

  chance(): number {
    return 0.5;
  }
}
