/**
 * One phone of a simulation: it does its steps in order, dies where its breath ends and is opened
 * again by its next step. A person who saw the app die in the middle of a sheet saves it once more
 * under the same id, as the kept draft has it; so what was told counts as entered only when the
 * phone had said so.
 */
import { createHash } from "node:crypto";
import { setTimeout as pause } from "node:timers/promises";
import type { Telling } from "../../src/domain/operation";
import { setting } from "../../src/store/local";
import { wasEntered } from "../../src/store/outbox";
import type { Photo } from "../../src/store/outbox.schema";
import { held, marks } from "../../src/store/replica";
import { NoAnswer } from "../../src/sync/exchange";
import { overlay } from "../../src/sync/overlay";
import type { Fated, Line } from "./line";
import { Killed, Life, mortal } from "./mortal";
import { type Device, device, nodePorts } from "./nodePorts";
import { Phone } from "./Phone";
import { telling } from "./tellings";

export type Step =
  | { do: "tell"; id: string; kind: string; payload: Telling["payload"]; photos?: string[] }
  | { do: "sync" }
  | { do: "rest" }
  | { do: "net"; fates: Fated[] }
  | { do: "kill"; breaths: number; cookies: boolean }
  | { do: "clock"; ms: number }
  | { do: "enrol" };

export interface Seat {
  person: string;
  /** Codes of the office, each good once. */
  codes: string[];
}

const TRIES = 2000;
const AGAIN_MS = 30;
const READING_MS = 700;
/** Rounds that reached the server, after which what is still unsent is a finding. */
const ROUNDS = 80;
/** Rounds at all: a busy machine, or a server that comes back late, is none. */
const MOST_ROUNDS = 2000;

export class Handset {
  readonly entered = new Set<string>();
  readonly happened: Record<string, number> = {};
  readonly faults: string[] = [];
  readonly photos = new Map<string, string>();
  private readonly of: Device;
  private life = new Life();
  private phone: Phone | null = null;
  private base = "";
  private losesCookies = false;

  constructor(
    readonly name: string,
    private readonly seat: Seat,
    readonly line: Line,
    private readonly jpeg: (name: string) => Buffer,
  ) {
    this.of = device(`${name}-`);
    line.onSilence = (number) => this.of.asking.get(number)?.abort();
  }

  async open(): Promise<void> {
    this.base = await this.line.open();
    await this.enrol();
  }

  /** Does a step; where the phone dies in it, opens it again and does it once more. */
  async step(step: Step): Promise<void> {
    for (;;) {
      const phone = await this.alive();
      try {
        return await this.take(phone, step);
      } catch (fault) {
        if (!this.life.dead) throw fault;
      }
    }
  }

  private async take(phone: Phone, step: Step): Promise<void> {
    switch (step.do) {
      case "tell":
        return await this.tell(phone, step);
      case "sync":
        return phone.engine.poke();
      case "rest":
        return void (await phone.sync());
      case "net":
        return void this.line.fates.push(...step.fates);
      case "kill":
        this.losesCookies = step.cookies;
        return this.life.endAfter(step.breaths);
      case "clock":
        this.of.shiftMs = step.ms;
        return this.count("clock set");
      case "enrol":
        await this.enrol();
        return this.count("enrolled again");
    }
  }

  private async tell(phone: Phone, step: Step & { do: "tell" }): Promise<void> {
    const photos = (step.photos ?? []).map((name): Photo => {
      const bytes = this.jpeg(name);
      const sha256 = createHash("sha256").update(bytes).digest("hex");
      this.photos.set(name, sha256);
      return { sha256, blob: new Blob([new Uint8Array(bytes)], { type: "image/jpeg" }) };
    });
    const text = JSON.stringify(step.payload);
    const named = text.replace(/@photo\d+/g, (name) => this.photos.get(name)!);
    await phone.tell(telling(step.kind, JSON.parse(named)), step.id, photos);
    this.entered.add(step.id);
  }

  /** The phone, opened again where it has died. */
  private async alive(): Promise<Phone> {
    if (this.phone !== null && !this.life.dead) return this.phone;
    if (this.phone !== null) {
      this.count("phone killed");
      if (this.losesCookies) {
        this.of.cookies.clear();
        this.count("cookie lost");
      }
      this.faults.push(...this.phone.faults.filter((f) => !(f instanceof Killed)).map(String));
      this.phone.close();
    }
    this.life = new Life();
    const ports = mortal(nodePorts(this.base, this.of, this.life), this.life);
    this.phone = await Phone.open(ports, this.seat.person);
    this.phone.engine.poke();
    return this.phone;
  }

  /** As often as it takes: an answer that was lost has spent its code. */
  private async enrol(): Promise<void> {
    for (let i = 0; i < TRIES; i++) {
      const phone = await this.alive();
      try {
        await phone.enrol(this.seat.codes[0]!, this.name);
        this.seat.codes.shift();
        return;
      } catch (no) {
        if (this.life.dead) continue;
        if (!(no instanceof NoAnswer)) throw no;
        if (no.problem?.code === "code_spent") this.seat.codes.shift();
        // Whoever was answered reads that first; the server counts tries by the minute.
        await pause(no.status === null ? AGAIN_MS : READING_MS);
      }
    }
    throw new Error(`${this.name} could not be enrolled`);
  }

  /** The network is well: the signal comes back, and the phone tries until nothing waits. */
  async deliver(): Promise<void> {
    this.life.endAfter(Infinity);
    await this.line.heal();
    for (let round = 0, reached = 0; round < MOST_ROUNDS && reached < ROUNDS; round++) {
      const phone = await this.alive();
      const reach = await phone.sync();
      const { entries, photos } = await phone.told();
      if (reach === "reached" && entries.length === 0 && photos.length === 0) return;
      if (reach === "reached") reached++;
      if (reach === "device_unknown") await this.enrol();
      await pause(Math.min(round, 20) * AGAIN_MS);
    }
  }

  async pull(): Promise<void> {
    await (await this.alive()).sync();
  }

  async readToken(): Promise<string> {
    const phone = await this.alive();
    return (await setting(phone.deps.store.local, "enrolment"))!.read_token!; // no PIN is set here
  }

  /** What this phone has at the end: its words to the server, and what it knows of the server's. */
  async state() {
    const phone = await this.alive();
    const { outbox, replica, local } = phone.deps.store;
    const told = await phone.told();
    const at = await marks(replica);
    const lying = overlay(told, at).filter((one) => !one.seen && !one.held);
    const bodies = Object.fromEntries([...told.entries, ...told.sent].map((e) => [e.id, e.body]));
    const missing = [];
    for (const id of this.entered) if (!(await wasEntered(outbox, id))) missing.push(id);
    return {
      device: (await setting(local, "enrolment"))!.device,
      entered: [...this.entered],
      missing,
      bodies,
      waiting: told.entries.map((e) => e.id),
      refusals: told.refusals,
      unsentPhotos: told.photos,
      photos: [...this.photos.values()],
      lying: lying.map((one) => one.operation.id),
      rows: await held(replica),
      reach: phone.engine.reach(),
      faults: [...this.faults, ...phone.faults.map(String)],
    };
  }

  close(): void {
    this.life.endAfter(1);
    try {
      this.life.breathe();
    } catch {
      // As meant: whatever it still does ends here.
    }
    this.phone?.close();
    this.line.close();
  }

  private count(fault: string): void {
    this.happened[fault] = (this.happened[fault] ?? 0) + 1;
  }
}
