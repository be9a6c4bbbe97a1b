/**
 * One schedule: every phone does its own steps in their order, all at once; what happens to the
 * server comes when as many steps of phones are done as stood before it in the list. Then the
 * network heals, all phones deliver, and what each knows is laid beside a fresh phone's view.
 */
import { createHash } from "node:crypto";
import { setTimeout as pause } from "node:timers/promises";
import { uuid7 } from "../../src/domain/uuid7";
import { pullBody, readPullPage } from "../../src/sync/wire";
import { compare, type Row } from "./compare";
import { Handset, type Seat, type Step } from "./handset";
import { Line } from "./line";
import { type Posted, postEvents } from "./plant";

type WorldStep = { do: "world"; what: string; events?: Posted[] } & Record<string, unknown>;
export interface Play {
  /** Makes ids of this playing unlike those of any other of the same schedule. */
  nonce: string;
  /** Ports of the web processes. */
  upstreams: number[];
  /** Who and what the schedule's names are: `@yard0`, `@person3`, `@label17` … */
  names: Record<string, string>;
  seats: Seat[];
  jpeg: string;
  plantKey: string;
  steps: ((Step & { phone: number }) | WorldStep)[];
}

const ROUNDS = 80;
const AGAIN_MS = 50;
/** Addresses of loopback (127.0.0.0/8): each phone of each playing has its own. */
let addresses = 1;

export async function play(p: Play, world: (at: number, what: object) => Promise<void>) {
  const started = Date.now();
  const steps = named(p);
  const handsets = p.seats.map((seat, i) => {
    const from = `127.${1 + ((addresses >> 16) & 127)}.${(addresses >> 8) & 255}.${addresses & 255}`;
    addresses++;
    const jpeg = (name: string) => marked(Buffer.from(p.jpeg, "base64"), `${p.nonce} ${name}`);
    return new Handset(`phone-${i}`, seat, new Line(from, p.upstreams), jpeg);
  });
  try {
    await Promise.all(handsets.map((one) => one.open()));
    const opened = Date.now();
    const happenings = await entering(p, steps, handsets, world);
    const entered = Date.now();
    await Promise.all(handsets.map((one) => one.deliver()));
    const delivered = Date.now();
    const views = await settled(p, handsets);
    return {
      phones: await Promise.all(
        handsets.map(async (one, i) => ({ ...(await one.state()), rows: undefined, ...views[i] })),
      ),
      happened: sum([...handsets.map((h) => h.happened), ...handsets.map((h) => h.line.happened)]),
      answers: sum(handsets.map((h) => h.line.answers)),
      broken: handsets.flatMap((h) => h.line.broken),
      exchanges: handsets.reduce((n, h) => n + h.line.exchanges, 0),
      posted: happenings,
      ms: {
        enrolling: opened - started,
        entering: entered - opened,
        delivering: delivered - entered,
        comparing: Date.now() - delivered,
      },
    };
  } finally {
    for (const one of handsets) one.close();
  }
}

/** Names are laid over the schedule as text: ids that it makes itself follow from the nonce. */
function named(p: Play): Play["steps"] {
  const ids = new Map<string, string>();
  const at = Date.now();
  const id = (name: string): string => {
    const known = ids.get(name);
    if (known !== undefined) return known;
    const chance = createHash("sha256").update(`${p.nonce} ${name}`).digest().subarray(0, 10);
    const made = uuid7(at, new Uint8Array(chance));
    ids.set(name, made);
    return made;
  };
  const text = JSON.stringify(p.steps).replace(/@(?!photo)[a-z]+\d*/g, (n) => p.names[n] ?? id(n));
  return JSON.parse(text) as Play["steps"];
}

async function entering(
  p: Play,
  steps: Play["steps"],
  handsets: Handset[],
  world: (at: number, what: object) => Promise<void>,
): Promise<Posted[]> {
  const own: Step[][] = handsets.map(() => []);
  const coming: { after: number; step: WorldStep }[] = [];
  let before = 0;
  for (const step of steps) {
    if (step.do === "world") coming.push({ after: before, step });
    else {
      own[step.phone]!.push(step);
      before++;
    }
  }
  const posted: Posted[] = [];
  let happening: Promise<void> = Promise.resolve();
  let done = 0;
  const arrive = () => {
    while (coming.length > 0 && coming[0]!.after <= done) {
      const { step } = coming.shift()!;
      const at = coming.length;
      const happened_at = new Date().toISOString();
      const events = step.events?.map((event) => ({ ...event, happened_at }));
      posted.push(...(events ?? []));
      happening = happening.then(() => (events ? postEvents(p, events) : world(at, step)));
    }
  };
  arrive();
  await Promise.all(
    handsets.map(async (one, i) => {
      for (const step of own[i]!) {
        await one.step(step);
        done++;
        arrive();
      }
    }),
  );
  await happening;
  if (steps.some((step) => step.do === "world" && step.what === "restore")) {
    // A plant's own system keeps what it has told, and tells it again.
    if (posted.length > 0) await postEvents(p, posted);
  }
  return posted;
}

/** Pulls until every phone has what a fresh phone of its site would have; says what differs. */
async function settled(p: Play, handsets: Handset[]): Promise<object[]> {
  for (let round = 0; ; round++) {
    await Promise.all(handsets.map((one) => one.pull()));
    const fresh: Map<string, Row>[] = [];
    const compared = [];
    for (const [i, one] of handsets.entries()) {
      fresh[i % 2] ??= await freshView(p.upstreams[0]!, await one.readToken());
      compared.push(compare((await one.state()).rows as Row[], fresh[i % 2]!));
    }
    const equal = compared.every((one) => one.differs.length === 0);
    if (equal || round === ROUNDS) {
      return compared.map((one, i) => ({
        ...one,
        fresh: i < 2 ? [...fresh[i]!.values()] : undefined,
      }));
    }
    await pause(AGAIN_MS * Math.min(round, 20));
  }
}

/** What a phone that has just been enrolled would pull: all rows of its scopes. */
async function freshView(port: number, token: string): Promise<Map<string, Row>> {
  const rows = new Map<string, Row>();
  let cursor: string | null = null;
  for (;;) {
    const response: Response = await fetch(`http://localhost:${port}/api/sync/pull`, {
      method: "POST",
      headers: { "content-type": "application/json", authorization: `Bearer ${token}` },
      body: pullBody(cursor),
    });
    const text = await response.text();
    if (response.status === 503 || response.status === 429) {
      await pause(AGAIN_MS); // busy: asked to come again
      continue;
    }
    const page = readPullPage(text);
    for (const row of page.rows) {
      const key = `${row.entity} ${row.id}`;
      const known = rows.get(key);
      if (known === undefined || known.version < row.version) rows.set(key, row as Row);
    }
    if (!page.more) break;
    cursor = page.cursor;
  }
  for (const [key, row] of rows) if ((row as { gone?: boolean }).gone) rows.delete(key);
  return rows;
}

/** A JPEG with a comment of its own (ITU T.81, marker COM): another hash, the same picture. */
function marked(jpeg: Buffer, comment: string): Buffer {
  const text = Buffer.from(comment);
  const head = Buffer.from([0xff, 0xfe, (text.length + 2) >> 8, (text.length + 2) & 255]);
  return Buffer.concat([jpeg.subarray(0, 2), head, text, jpeg.subarray(2)]);
}

function sum(counts: Record<string, number>[]): Record<string, number> {
  const all: Record<string, number> = {};
  for (const one of counts)
    for (const [name, n] of Object.entries(one)) all[name] = (all[name] ?? 0) + n;
  return all;
}
