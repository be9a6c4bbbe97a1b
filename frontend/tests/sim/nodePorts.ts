/** Ports of a phone on Node: fetch with a cookie of its own, and a network that can be told to fail. */
import { type Clock, systemClock } from "../../src/ports/clock";
import { systemIds } from "../../src/ports/ids";
import { type Ask, fetchNet, type Net, NetFault, type Reply } from "../../src/ports/net";
import type { Ports } from "../../src/sync/exchange";
import { FakeLocks } from "./FakeLocks";
import type { Fate } from "./FakeNet";

export interface NodePorts extends Ports {
  /** What becomes of the next exchanges, as FakeNet says; none left: they pass. */
  fates: Fate[];
  /** How far this phone's idea of the time is off. */
  shiftMs: number;
}

export function nodePorts(base: string, prefix: string): NodePorts {
  const cookies = new Map<string, string>();
  const net = fetchNet(base, (path, init) => withCookies(cookies, path, init));
  const ports: NodePorts = {
    fates: [],
    shiftMs: 0,
    clock: shifted(() => ports.shiftMs),
    ids: systemIds(systemClock),
    locks: new FakeLocks(),
    storage: { prefix, persist: async () => true },
    net: {
      online: () => ports.fates[0] !== "dead",
      ask: (ask) => fated(net, ask, ports.fates),
    },
  };
  return ports;
}

const shifted = (shift: () => number): Clock => ({
  now: () => systemClock.now() + shift(),
  // Runs come when they are asked for, not by themselves in the middle of a test.
  after: () => () => {},
});

async function fated(net: Net, ask: Ask, fates: Fate[]): Promise<Reply> {
  const fate = fates[0] ?? "pass";
  if (fate === "dead") throw new NetFault("dead");
  fates.shift();
  if (typeof fate === "number") return { status: fate, text: "", retryAfterS: null };
  if (fate === "drop" || fate === "late") throw new NetFault(fate);
  if (fate === "double") await net.ask(ask);
  const reply = await net.ask(ask);
  if (fate === "lost") throw new NetFault(fate);
  if (fate === "cut") return { ...reply, text: reply.text.slice(0, reply.text.length / 2) };
  return reply;
}

/** A browser sends __Host- cookies over plain http to localhost only; Node's fetch keeps none. */
async function withCookies(
  jar: Map<string, string>,
  url: string,
  init: RequestInit,
): Promise<Response> {
  const cookie = [...jar].map(([name, value]) => `${name}=${value}`).join("; ");
  const headers = { ...(init.headers as Record<string, string>), ...(cookie ? { cookie } : {}) };
  const response = await fetch(url, { ...init, headers });
  for (const set of response.headers.getSetCookie()) {
    const [, name, value] = /^([^=]+)=([^;]*)/.exec(set) ?? [];
    if (name !== undefined) jar.set(name.trim(), value!);
  }
  return response;
}
