/**
 * Push: the outbox in order, in batches, until every entry has its answer. While one batch is with
 * the server the answers to the one before are written down and the next is read; a batch goes out
 * only when the one before was answered. One bad operation never stops those behind it: too large a
 * batch is halved, an operation that alone cannot be read is marked for the driver, one over which
 * the server falls is put behind the others.
 */
import { instant } from "../domain/operation";
import type { Entry, OutboxDb } from "../store/outbox.schema";
import { askedFor, refuse, settle, unsent, type Verdict } from "../store/outbox";
import { type Deps, exchange, NoAnswer } from "./exchange";
import { BATCH, BODY_BYTES, type PushAnswer, pushBody, readPushAnswer } from "./wire";

/** How many operations a run may put behind before it takes the server for away. */
const PUT_BEHIND = 3;
const TIMEOUT_MS = 30_000;
const FRAME_BYTES = 120;

const bytes = (text: string): number => new TextEncoder().encode(text).length;

/** Ids over which the server fell, kept while the page lives: they go last. */
export type Behind = Set<string>;

export async function push(deps: Deps, behind: Behind, progress: () => void): Promise<void> {
  const { outbox } = deps.store;
  let limit = BATCH;
  const tried = new Set<string>();
  let ahead: Entry[] = [];
  let written: Promise<void> = Promise.resolve();
  for (;;) {
    if (ahead.length === 0) {
      await written;
      ahead = await inTurn(outbox, limit, tried, behind);
    }
    const batch = fitting(ahead);
    if (batch.length === 0) break;
    const last = batch.length === limit || batch.length < ahead.length ? batch.at(-1) : undefined;
    const [said, read, wrote] = await Promise.allSettled([
      ask(deps, batch),
      last ? unsent(outbox, limit, new Set([...tried, ...behind]), last.sequence) : [],
      written,
    ]);
    if (wrote.status === "rejected") throw wrote.reason;
    if (read.status === "rejected") throw read.reason;
    try {
      if (said.status === "rejected") throw said.reason;
      const verdicts = matched(batch, said.value);
      const answered = new Set(verdicts.map((v) => v.id));
      for (const id of answered) behind.delete(id);
      // What the server did not answer for is asked again in the next run, not in a circle.
      for (const entry of batch) if (!answered.has(entry.id)) tried.add(entry.id);
      written = write(deps, batch, verdicts, said.value).then(progress);
      ahead = read.value;
    } catch (no) {
      if (!(no instanceof NoAnswer)) throw no;
      const own = no.trouble === "too_large" || no.trouble === "malformed";
      if (!own && no.trouble !== "broken") throw no;
      ahead = [];
      if (batch.length > 1) {
        limit = Math.ceil(batch.length / 2);
        continue;
      }
      const { id } = batch[0]!;
      if (own) await refuseAlone(deps, id, no);
      else {
        behind.add(id);
        tried.add(id);
        if (tried.size >= PUT_BEHIND) throw new NoAnswer("broken", no.retryAfterS);
      }
      progress();
    }
  }
  if (tried.size > 0) throw new NoAnswer("broken");
}

/** Those over which the server fell go behind, when all others are sent; else the order of entry. */
async function inTurn(
  outbox: OutboxDb,
  limit: number,
  tried: ReadonlySet<string>,
  behind: Behind,
): Promise<Entry[]> {
  const first = await unsent(outbox, limit, new Set([...tried, ...behind]));
  return first.length > 0 || behind.size === 0 ? first : await unsent(outbox, limit, tried);
}

function fitting(entries: Entry[]): Entry[] {
  let size = FRAME_BYTES;
  let count = 0;
  for (const entry of entries) {
    size += bytes(entry.body) + 1;
    if (size > BODY_BYTES && count > 0) break;
    count++;
  }
  return entries.slice(0, count);
}

function ask(deps: Deps, batch: Entry[]): Promise<PushAnswer> {
  const question = {
    method: "POST" as const,
    path: "/api/sync/push",
    headers: { "content-type": "application/json" },
    body: pushBody(
      instant(deps.clock.now()),
      batch.map((entry) => entry.body),
    ),
    timeoutMs: TIMEOUT_MS,
  };
  return exchange(deps, question, readPushAnswer);
}

/** Settles what was answered; resolves when it is on the disk. */
async function write(
  deps: Deps,
  batch: Entry[],
  verdicts: Verdict[],
  { epoch, missingPhotos }: PushAnswer,
): Promise<void> {
  await settle(deps.store.outbox, batch, verdicts, deps.clock.now(), epoch);
  if (missingPhotos.length > 0) await askedFor(deps.store.outbox, missingPhotos);
}

/** Answers stand in the order of the operations; each must also be for that very id. */
function matched(batch: Entry[], answer: PushAnswer): Verdict[] {
  if (answer.answers.length !== batch.length) throw new NoAnswer("server_away");
  return batch.flatMap((entry, i) => {
    const said = answer.answers[i];
    if (!said) return [];
    const foreign = said.id === null ? said.outcome !== "refused" : said.id !== entry.id;
    return foreign ? [] : [{ ...said, id: entry.id }];
  });
}

async function refuseAlone(deps: Deps, id: string, no: NoAnswer): Promise<void> {
  const first = no.problem?.faults[0];
  await refuse(deps.store.outbox, {
    id,
    at: deps.clock.now(),
    code: no.problem?.code || no.trouble,
    field: first?.field ?? null,
    value: first?.value ?? null,
    allowed: first?.allowed ?? null,
  });
}
