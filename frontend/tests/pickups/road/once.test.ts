/** A key that tells one thing: tapped twice it tells it once, and it can be tried again. */
import { expect, it } from "vitest";
import { once } from "../../../src/pickups/road/once";

const key = () => {
  const failed: boolean[] = [];
  return { failed, run: once({ current: false }, (now) => failed.push(now)) };
};

it("tells once, however often it is tapped meanwhile", async () => {
  const { run } = key();
  let told = 0;
  let keep = () => {};
  const slow = () =>
    new Promise<void>((done) => {
      told += 1;
      keep = done;
    });
  const first = run(slow);
  await run(slow);
  keep();
  await first;
  expect(told).toBe(1);
});

it("says that it could not be kept, and may be tapped again", async () => {
  const { failed, run } = key();
  await run(() => Promise.reject(new Error("no room")));
  await run(() => Promise.resolve());
  expect(failed).toEqual([true, false]);
});
