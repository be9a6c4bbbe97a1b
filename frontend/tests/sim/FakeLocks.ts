/** Locks among the tabs of one device; `holders` tells a test how many held one at once. */
import type { Locks } from "../../src/ports/locks";

export class FakeLocks implements Locks {
  private tails = new Map<string, Promise<unknown>>();
  private inside = 0;
  holders = 0;

  async hold<T>(name: string, work: () => Promise<T>): Promise<T> {
    const before = this.tails.get(name) ?? Promise.resolve();
    const mine = before.then(
      () => this.counted(work),
      () => this.counted(work),
    );
    this.tails.set(
      name,
      mine.catch(() => {}),
    );
    return await mine;
  }

  private async counted<T>(work: () => Promise<T>): Promise<T> {
    this.inside++;
    this.holders = Math.max(this.holders, this.inside);
    try {
      return await work();
    } finally {
      this.inside--;
    }
  }
}
