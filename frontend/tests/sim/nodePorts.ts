/**
 * Ports of a phone on Node: fetch with a cookie jar of its own, a clock that may be set wrong, and
 * time that passes faster: waits are divided by `HASTE`, so that five minutes of patience take a
 * second. How long an answer may take is never shortened: a slow machine must not look like a fault.
 */
import { type Clock, systemClock } from "../../src/ports/clock";
import { systemIds } from "../../src/ports/ids";
import { fetchNet, type Net, NetFault } from "../../src/ports/net";
import type { Ports } from "../../src/sync/exchange";
import { FakeLocks } from "./FakeLocks";
import { NUMBER } from "./line";
import type { Life } from "./mortal";

const HASTE = 200;
const PATIENCE = 20;

/** What outlives a kill of the phone's process. */
export interface Device {
  prefix: string;
  cookies: Map<string, string>;
  /** How far its idea of the time is off. */
  shiftMs: number;
  /** Requests under way by their numbers: each can be given up, as the phone's patience would. */
  asking: Map<string, AbortController>;
  asked: number;
}

export const device = (prefix: string): Device => ({
  prefix,
  cookies: new Map(),
  shiftMs: 0,
  asking: new Map(),
  asked: 0,
});

export function nodePorts(base: string, of: Device, life: Life): Ports {
  const clock = hasty(of);
  return {
    clock,
    ids: systemIds(clock),
    locks: new FakeLocks(),
    storage: { prefix: of.prefix, persist: async () => true },
    net: patient(fetchNet(base, (path, init) => withCookies(of, life, path, init))),
  };
}

const hasty = (of: Device): Clock => ({
  now: () => systemClock.now() + of.shiftMs,
  after: (ms, then) => systemClock.after(ms / HASTE, then),
});

const patient = (net: Net): Net => ({
  online: () => true,
  ask: (ask) => net.ask({ ...ask, timeoutMs: ask.timeoutMs * PATIENCE }),
});

/** A browser sends __Host- cookies over plain http to localhost only; Node's fetch keeps none. */
async function withCookies(
  of: Device,
  life: Life,
  url: string,
  init: RequestInit,
): Promise<Response> {
  if (life.dead) throw new NetFault("nobody there");
  const number = String(++of.asked);
  const giveUp = new AbortController();
  of.asking.set(number, giveUp);
  const cookie = [...of.cookies].map(([name, value]) => `${name}=${value}`).join("; ");
  const headers = {
    ...(init.headers as Record<string, string>),
    ...(cookie ? { cookie } : {}),
    [NUMBER]: number,
  };
  const signal = AbortSignal.any([init.signal!, life.signal, giveUp.signal]);
  const response = await fetch(url, { ...init, headers, signal }).finally(() =>
    of.asking.delete(number),
  );
  for (const set of response.headers.getSetCookie()) {
    const [, name, value] = /^([^=]+)=([^;]*)/.exec(set) ?? [];
    if (name !== undefined) of.cookies.set(name.trim(), value!);
  }
  return response;
}
