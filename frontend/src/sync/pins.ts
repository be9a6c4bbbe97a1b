/**
 * PINs of a device: which person a PIN says it is, and the read token that it opens. What lies on
 * the disk is sealed; what is open is in the memory of one page (`opened`). Knows no screen.
 */
import { MOST_WRONG, pauseMs } from "../domain/pin";
import { ITERATIONS, keyOf, newSalt, seal, unseal } from "../ports/sealing";
import { amend, keepCopy, type Pins, set, setting } from "../store/local";
import { marks, present, wipe } from "../store/replica";
import type { Deps } from "./exchange";
import { LOCK } from "./news";

export type Tried =
  | { opened: { person: string; token: string } }
  /** Not looked at: so long it is too early. */
  | { waitMs: number }
  | { wrong: number };

/** The token to fetch with, or null as long as this page is locked. */
export async function readToken(deps: Deps): Promise<string | null> {
  const enrolment = await setting(deps.store.local, "enrolment");
  if (enrolment === null) return null;
  // Another tab may have had its ten wrong ones since this one was unlocked.
  const tries = await setting(deps.store.local, "pin_tries");
  if ((tries?.wrong ?? 0) >= MOST_WRONG) return null;
  return enrolment.read_token ?? deps.opened?.token ?? null;
}

/** The token is sealed for this device and this person: no copy passes for another's. */
const about = (device: string, person: string): string => `${device} ${person}`;

/**
 * Gives a person a PIN; one who has one already gets another only while holding this page. `taken`:
 * it opens somebody else's copy, or the person has one and another is here. `lost`: the device was enrolled anew meanwhile, or holds no token to seal.
 */
export async function setPin(
  deps: Deps,
  person: string,
  pin: string,
): Promise<"set" | "taken" | "lost"> {
  const { local } = deps.store;
  if ((await readToken(deps)) === null) return "lost";
  const fresh = { salt: newSalt(), iterations: ITERATIONS, copies: [] };
  await amend(local, "pins", (now) => now ?? fresh);
  // In this order: enrolled anew after this, the salt is another and nothing old is kept.
  const pins = (await setting(local, "pins")) ?? fresh;
  const enrolment = await setting(local, "enrolment");
  const token = await readToken(deps);
  if (enrolment === null || token === null) return "lost";
  const has = pins.copies.some((copy) => copy.person === person);
  if (has && deps.opened?.person !== person) return "taken";
  const key = await keyOf(pin, pins.salt, pins.iterations);
  const opened = await open(pins, key, enrolment.device);
  if (opened !== null && opened.person !== person) return "taken";
  const sealed = await seal(key, token, about(enrolment.device, person));
  return (await keepCopy(local, pins.salt, { person, ...sealed })) ? "set" : "lost";
}

/** One derivation, then every copy is tried; a wrong PIN is counted before it is looked at. */
export async function tryPin(deps: Deps, pin: string): Promise<Tried> {
  const { local } = deps.store;
  const [enrolment, pins] = [await setting(local, "enrolment"), await setting(local, "pins")];
  if (enrolment === null || pins === null) return { wrong: MOST_WRONG };
  const early = await waitMs(deps);
  if (early > 0) return { waitMs: early };
  let wrong = 0;
  await amend(local, "pin_tries", (now) => {
    wrong = (now?.wrong ?? 0) + 1;
    return { wrong, at: deps.clock.now() };
  });
  const opened =
    wrong <= MOST_WRONG
      ? await open(pins, await keyOf(pin, pins.salt, pins.iterations), enrolment.device)
      : null;
  if (opened === null) return { wrong };
  await set(local, "pin_tries", null);
  return { opened };
}

/**
 * How long nobody may try yet, in milliseconds. Where the clock was set back since, the pause
 * begins anew: it would not end before the clock is where it was.
 */
export async function waitMs({ store, clock }: Deps): Promise<number> {
  const tries = await setting(store.local, "pin_tries");
  if (tries === null) return 0;
  const pause = pauseMs(tries.wrong);
  const now = clock.now();
  if (tries.at <= now) return Math.max(0, tries.at + pause - now);
  await amend(store.local, "pin_tries", (then) => then && { ...then, at: Math.min(then.at, now) });
  return pause;
}

async function open(
  pins: Pins,
  key: CryptoKey,
  device: string,
): Promise<{ person: string; token: string } | null> {
  for (const copy of pins.copies) {
    const token = await unseal(key, copy, about(device, copy.person));
    if (token !== null) return { person: copy.person, token };
  }
  return null;
}

/**
 * After ten wrong ones: what the server told and what opens its door go; what was entered, is half
 * filled in or was photographed stays and is sent. Safe to repeat; done again when a kill came
 * between. True where there was something to do.
 */
export async function wipeAfterTen(deps: Deps): Promise<boolean> {
  const { local, replica } = deps.store;
  const tries = await setting(local, "pin_tries");
  if ((tries?.wrong ?? 0) < MOST_WRONG) return false;
  await set(local, "pins", null);
  await amend(local, "enrolment", (now) => now && { ...now, read_token: null });
  await deps.locks.hold(LOCK, () => wipe(replica));
  return true;
}

/** Whoever is no longer of this place opens nothing here any more. */
export async function dropStrangers(deps: Deps): Promise<void> {
  const { local, replica } = deps.store;
  const pins = await setting(local, "pins");
  if (pins === null || (await marks(replica)).seen === null) return;
  const rows = await present(replica);
  const here = new Set(rows.filter((row) => row.entity === "person").map((row) => row.id));
  if (pins.copies.every(({ person }) => here.has(person))) return;
  await amend(local, "pins", (now) => {
    const { copies, ...rest } = now ?? pins;
    return { ...rest, copies: copies.filter(({ person }) => here.has(person)) };
  });
}
