/**
 * Push: the outbox in order, in batches, until every entry has its answer. One bad operation never
 * stops those behind it: too large a batch is halved, an operation that alone cannot be read is
 * marked for the driver, one over which the server falls is put behind the others.
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
  let limit = BATCH;
  const tried = new Set<string>();
  for (;;) {
    const batch = fitting(await inTurn(deps.store.outbox, limit, tried, behind));
    if (batch.length === 0) break;
    try {
      const answered = await pushBatch(deps, batch);
      for (const id of answered) behind.delete(id);
      // What the server did not answer for is asked again in the next run, not in a circle.
      for (const entry of batch) if (!answered.has(entry.id)) tried.add(entry.id);
      progress();
    } catch (no) {
      if (!(no instanceof NoAnswer)) throw no;
      const own = no.trouble === "too_large" || no.trouble === "malformed";
      if (!own && no.trouble !== "broken") throw no;
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

/** Sends a batch and settles what was answered; says which ids that were. */
async function pushBatch(deps: Deps, batch: Entry[]): Promise<Set<string>> {
  const ask = {
    method: "POST" as const,
    path: "/api/sync/push",
    headers: { "content-type": "application/json" },
    body: pushBody(
      instant(deps.clock.now()),
      batch.map((entry) => entry.body),
    ),
    timeoutMs: TIMEOUT_MS,
  };
  const answer = await exchange(deps, ask, readPushAnswer);
  const verdicts = matched(batch, answer);
  await settle(deps.store.outbox, verdicts, deps.clock.now(), answer.epoch);
  if (answer.missingPhotos.length > 0) await askedFor(deps.store.outbox, answer.missingPhotos);
  return new Set(verdicts.map((v) => v.id));
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
