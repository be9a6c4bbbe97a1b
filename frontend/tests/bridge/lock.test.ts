/** Whose PIN a page asks for, where somebody is about to change it. */
import { expect, it } from "vitest";
import { makeLock } from "../../src/bridge/lock";
import { MOST_WRONG } from "../../src/domain/pin";
import { set } from "../../src/store/local";
import type { Opened } from "../../src/sync/opened";
import { readToken, setPin } from "../../src/sync/pins";
import { rig } from "../sim/rig";

const MAVEN = "01960000-0000-7000-8000-0000000000b1";
const NOOR = "01960000-0000-7000-8000-0000000000b2";
const [HERS, HIS, WRONG] = ["270941", "580264", "904417"];

/** A page that one of two has unlocked. */
async function unlocked() {
  const it = rig();
  const phone = await it.phone();
  const opened: Opened = { token: null, person: null };
  const deps = { ...phone.deps, opened };
  const { local } = deps.store;
  const salt = crypto.getRandomValues(new Uint8Array(16));
  await set(local, "pins", { salt, iterations: 10, copies: [] });
  const token = await readToken(deps);
  await setPin(deps, MAVEN, HERS);
  Object.assign(opened, { token, person: MAVEN });
  await setPin(deps, NOOR, HIS);
  const nothing = () => {};
  const { lock } = makeLock(
    deps,
    nothing,
    async () => {},
    nothing,
    () => [],
  );
  return { ...it, lock, opened };
}

it("knows the PIN of who holds it from a wrong one and from another's", async () => {
  const { lock, opened } = await unlocked();
  expect(await lock.isTheirs(HERS)).toBe(true);
  expect(await lock.isTheirs(WRONG)).toBe(false);
  expect(await lock.isTheirs(HIS)).toBe(false);
  expect(opened.person).toBe(MAVEN);
});

it("takes no more than ten wrong ones, and locks then", async () => {
  const { lock, opened, clock } = await unlocked();
  for (let wrong = 1; wrong <= MOST_WRONG; wrong++) {
    expect(await lock.isTheirs(WRONG)).toBe(false);
    clock.advance(61_000);
  }
  expect(opened.token).toBeNull();
  expect(await lock.isTheirs(HERS)).toBe(false);
});
