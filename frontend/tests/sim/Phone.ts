/**
 * A phone without a screen: the shipped store, sync and domain over given ports. What a person
 * does on the sheets is one method each; `told` and `pickups` are what the sheets would show.
 */
import {
  type CountScrap,
  countScrap,
  type FinishPickup,
  finishPickup,
  type LeaveHere,
  leaveHere,
  type PickUp,
  pickUp,
  type Telling,
  type Withdraw,
  withdraw,
} from "../../src/domain/operation";
import type { Pickup } from "../../src/domain/rows";
import { type View, view } from "../../src/domain/view";
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
import { lifeOf } from "./mortal";

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
    lifeOf(ports)?.owns(deps.store);
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

  /** Anything that a person can tell; returns the operation's id. */
  async tell(telling: Telling, id = this.deps.ids.next(), photos: Photo[] = []): Promise<string> {
    await enterOperation(this.deps, { id, telling, by: this.by, photos });
    return id;
  }

  pickUp = (payload: PickUp, id?: string, photos?: Photo[]) =>
    this.tell(pickUp(payload), id, photos);

  withdraw = (payload: Withdraw, id?: string) => this.tell(withdraw(payload), id);

  countScrap = (payload: CountScrap, id?: string) => this.tell(countScrap(payload), id);

  leaveHere = (payload: LeaveHere, id?: string) => this.tell(leaveHere(payload), id);

  finish = (payload: FinishPickup, id?: string) => this.tell(finishPickup(payload), id);

  sync = () => this.engine.sync();

  told = () => told(this.deps.store.outbox);

  async view(): Promise<View> {
    const { outbox, replica } = this.deps.store;
    return view(await present(replica), overlay(await told(outbox), await marks(replica)));
  }

  async pickups(): Promise<Pickup[]> {
    return (await this.view()).pickups;
  }

  close(): void {
    this.engine.stop();
    this.deps.store.close();
  }
}
