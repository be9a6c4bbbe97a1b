/** A phone, a network, a server on paper and a clock, on databases of their own. */
import "fake-indexeddb/auto";
import type { Ports } from "../../src/sync/exchange";
import { FakeClock } from "./FakeClock";
import { FakeIds } from "./FakeIds";
import { FakeLocks } from "./FakeLocks";
import { FakeNet } from "./FakeNet";
import { PaperServer } from "./PaperServer";
import { Phone } from "./Phone";

let count = 0;

export interface Rig {
  ports: Ports;
  clock: FakeClock;
  net: FakeNet;
  server: PaperServer;
  /** Opens a phone on this rig's databases; a second one is a second tab. */
  phone(): Promise<Phone>;
}

export function rig(given: { ids?: string[]; at?: string } = {}): Rig {
  const clock = new FakeClock(given.at);
  const server = new PaperServer(clock);
  const net = new FakeNet(server.answer);
  const ports: Ports = {
    clock,
    net,
    ids: new FakeIds(given.ids),
    locks: new FakeLocks(),
    storage: { prefix: `rig-${++count}-`, persist: async () => true },
  };
  return {
    ports,
    clock,
    net,
    server,
    phone: async () => await (await Phone.open(ports)).enrolled(),
  };
}

export const PICKUP = "01963b1c-7a00-7c3e-8d21-5a0f3c6ea000";
export const YARD = "01960000-0000-7000-8000-0000000000a1";
export const casing = (label = "K72K54X2") => ({ pickup: PICKUP, yard: YARD, label });
