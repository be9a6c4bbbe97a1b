/**
 * A phone without a screen: the shipped store, sync and domain over given ports. What a person
 * does on the sheets is one method each; `told` and `pickups` are what the sheets would show.
 */
import {
  type FinishPickup,
  finishPickup,
  type PickUp,
  pickUp,
  type Withdraw,
  withdraw,
} from "../../src/domain/operation";
import type { Pickup } from "../../src/domain/rows";
import { pickups } from "../../src/domain/view";
import { openStore } from "../../src/store";
import { set } from "../../src/store/local";
import { told } from "../../src/store/outbox";
import type { Photo } from "../../src/store/outbox.schema";
import { marks, present } from "../../src/store/replica";
import { type Engine, makeEngine } from "../../src/sync/engine";
import { enterOperation } from "../../src/sync/entering";
import { enrol } from "../../src/sync/enrol";
import type { Deps, Ports } from "../../src/sync/exchange";
import { overlay } from "../../src/sync/overlay";

export const DRIVER = "01960000-0000-7000-8000-0000000000b1";

export class Phone {
  private constructor(
    readonly deps: Deps,
    readonly engine: Engine,
    public by: string,
    /** Faults of our own that a run met; a test may ask that there are none. */
    readonly faults: unknown[],
  ) {}

  /** Opens the phone on the databases that it had before, if it had any. */
  static async open(ports: Ports, by = DRIVER): Promise<Phone> {
    const deps: Deps = { ...ports, store: await openStore(ports.storage.prefix) };
    const faults: unknown[] = [];
    const engine = makeEngine(
      deps,
      () => {},
      (fault) => faults.push(fault),
    );
    return new Phone(deps, engine, by, faults);
  }

  /** As an enrolled phone, without asking anybody. */
  async enrolled(): Promise<this> {
    await set(this.deps.store.local, "enrolment", {
      device: "01960000-0000-7000-8000-0000000000d1",
      name: "Truck 4 phone",
      site: "01960000-0000-7000-8000-0000000000e1",
      site_name: "Bramblewick store",
      read_token: "r.token",
    });
    return this;
  }

  enrol = (code: string, name: string) => enrol(this.deps, code, name);

  async pickUp(payload: PickUp, id = this.deps.ids.next(), photos: Photo[] = []): Promise<string> {
    await enterOperation(this.deps, { id, telling: pickUp(payload), by: this.by, photos });
    return id;
  }

  async withdraw(payload: Withdraw, id = this.deps.ids.next()): Promise<string> {
    await enterOperation(this.deps, { id, telling: withdraw(payload), by: this.by, photos: [] });
    return id;
  }

  async finish(payload: FinishPickup, id = this.deps.ids.next()): Promise<string> {
    const telling = finishPickup(payload);
    await enterOperation(this.deps, { id, telling, by: this.by, photos: [] });
    return id;
  }

  sync = () => this.engine.sync();

  told = () => told(this.deps.store.outbox);

  async pickups(): Promise<Pickup[]> {
    const { outbox, replica } = this.deps.store;
    return pickups(await present(replica), overlay(await told(outbox), await marks(replica)));
  }

  close(): void {
    this.engine.stop();
    this.deps.store.close();
  }
}
