/**
 * Drives the shipped engine on Node by JSON lines: a command on stdin, its answer on stdout.
 *
 *   node tests/sim/dist/runner.mjs http://127.0.0.1:8000        (after `npm run sim:build`)
 *
 *   {"do":"enrol","code":"…","name":"…"}        {"do":"person","id":"…"}
 *   {"do":"pick_up","payload":{…},"id":"…"?,"photo":"…"?}        photo: a JPEG in base64, hashed here
 *   {"do":"withdraw","payload":{…}}             {"do":"finish","payload":{…}}
 *   {"do":"tell","kind":"custody.deliver","payload":{…},"id":"…"?}       also hand_over, finish_delivery,
 *                                               count_scrap, leave_here
 *   {"do":"sync"}                               answers {"reach":…} when the run has ended
 *   {"do":"state"}                              waiting, sent, refusals, photos, marks, rows, and what
 *                                               the screens show: pickups, deliveries, casings, moves
 *   {"do":"again","id":"…"}                     try a refused one once more
 *   {"do":"fates","fates":["lost","double"]}    what becomes of the next exchanges (FakeNet)
 *   {"do":"clock","shift_ms":-86400000}         the phone's clock is off by so much
 *   {"do":"kill"}                               the app dies; the next command opens it again
 *
 * Every answer is {"ok":true,…} or {"ok":false,"error":…,"trouble":…,"code":…}.
 */
import "fake-indexeddb/auto";
import { createHash } from "node:crypto";
import { createInterface } from "node:readline";
import {
  countScrap,
  deliver,
  type FinishPickup,
  finishDelivery,
  handOver,
  leaveHere,
  type PickUp,
  type Telling,
  type Withdraw,
} from "../../src/domain/operation";
import { tryAgain } from "../../src/store/outbox";
import { marks, present } from "../../src/store/replica";
import { NoAnswer } from "../../src/sync/exchange";
import type { Fate } from "./FakeNet";
import { nodePorts } from "./nodePorts";
import { Phone } from "./Phone";

type Command =
  | { do: "enrol"; code: string; name: string }
  | { do: "person"; id: string }
  | { do: "pick_up"; payload: PickUp; id?: string; photo?: string }
  | { do: "withdraw"; payload: Withdraw; id?: string }
  | { do: "finish"; payload: FinishPickup; id?: string }
  | { do: "tell"; kind: string; payload: Telling["payload"]; id?: string }
  | { do: "sync" | "state" | "kill" }
  | { do: "again"; id: string }
  | { do: "fates"; fates: Fate[] }
  | { do: "clock"; shift_ms: number };

const ports = nodePorts(process.argv[2] ?? "http://127.0.0.1:8000", "node-");
let phone: Phone | null = null;
let by: string | undefined;

async function obey(command: Command): Promise<object> {
  phone ??= await Phone.open(ports, by);
  const id = "id" in command ? command.id : undefined;
  switch (command.do) {
    case "enrol":
      return await phone.enrol(command.code, command.name);
    case "person":
      by = phone.by = command.id;
      return {};
    case "pick_up":
      return await pickUp(phone, command.payload, id, command.photo);
    case "withdraw":
      return { id: await phone.withdraw(command.payload, id) };
    case "finish":
      return { id: await phone.finish(command.payload, id) };
    case "tell":
      return { id: await phone.tell(telling(command.kind, command.payload), id) };
    case "sync":
      return { reach: await phone.sync(), faults: phone.faults.map(String) };
    case "state":
      return await state(phone);
    case "again":
      await tryAgain(phone.deps.store.outbox, command.id);
      return {};
    case "fates":
      ports.fates.splice(0, ports.fates.length, ...command.fates);
      return {};
    case "clock":
      ports.shiftMs = command.shift_ms;
      return {};
    case "kill":
      phone.close();
      phone = null;
      return {};
    default:
      throw new Error("no such command");
  }
}

/** What a driver tells on the road, in the version that this app makes. */
// biome-ignore lint/suspicious/noExplicitAny: the kind says which payload it is
const MAKERS: Record<string, (payload: any) => Telling> = {
  "custody.count_scrap": countScrap,
  "custody.leave_here": leaveHere,
  "custody.hand_over": handOver,
  "custody.deliver": deliver,
  "custody.finish_delivery": finishDelivery,
};

function telling(kind: string, payload: Telling["payload"]): Telling {
  const made = Object.hasOwn(MAKERS, kind) ? MAKERS[kind]!(payload) : null;
  if (made === null) throw new Error(`no such kind: ${kind}`);
  return made;
}

async function pickUp(on: Phone, payload: PickUp, id?: string, photo?: string): Promise<object> {
  if (photo === undefined) return { id: await on.pickUp(payload, id) };
  const bytes = Buffer.from(photo, "base64");
  const sha256 = createHash("sha256").update(bytes).digest("hex");
  const photos = [{ sha256, blob: new Blob([bytes], { type: "image/jpeg" }) }];
  return { id: await on.pickUp({ ...payload, photos: [sha256] }, id, photos), sha256 };
}

async function state(of: Phone): Promise<object> {
  const { entries, sent, refusals, photos } = await of.told();
  const { casings, pickups, deliveries, moves } = await of.view();
  return {
    waiting: entries.map(({ id, sequence }) => ({ id, sequence })),
    sent: sent.map(({ body: _, ...rest }) => rest),
    bodies: Object.fromEntries([...entries, ...sent].map(({ id, body }) => [id, JSON.parse(body)])),
    refusals,
    photos,
    marks: await marks(of.deps.store.replica),
    pickups,
    deliveries,
    casings: [...casings.values()],
    moves,
    rows: await present(of.deps.store.replica),
    reach: of.engine.reach(),
  };
}

for await (const line of createInterface({ input: process.stdin })) {
  if (line.trim() === "") continue;
  let answer: object;
  try {
    answer = { ok: true, ...(await obey(JSON.parse(line) as Command)) };
  } catch (fault) {
    const no = fault instanceof NoAnswer ? fault : null;
    answer = { ok: false, error: String(fault), trouble: no?.trouble, code: no?.problem?.code };
  }
  process.stdout.write(`${JSON.stringify(answer)}\n`);
}
process.exit(0);
