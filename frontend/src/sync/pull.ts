/**
 * Pull: pages of the feed after the cursor until nothing more is to come. While one is written
 * down the next is on its way; the cursor on the disk is always that of the last one written.
 */
import { marks, take, wipe } from "../store/replica";
import { putBack } from "../store/sent";
import { type Deps, exchange, NoAnswer } from "./exchange";
import { readToken } from "./pins";
import { type PullPage, pullBody, readPullPage } from "./wire";

const TIMEOUT_MS = 30_000;

/** True where the feed had begun anew: then what was sent has to be told again first. */
export async function pull(deps: Deps, progress: () => void): Promise<boolean> {
  const { store } = deps;
  const token = await readToken(deps);
  if (token === null) return false;
  let anew = false;
  let heard: string | null = null;
  let { cursor } = await marks(store.replica);
  let coming = pageAfter(deps, token, cursor);
  for (;;) {
    try {
      const page = await coming;
      // A server that repeats itself must not keep us here for ever.
      const more = page.more && page.cursor !== cursor;
      if (more) {
        coming = pageAfter(deps, token, page.cursor);
        coming.catch(() => {}); // heard of in its turn, if this page can be written
      }
      // A phone that had not pulled yet hears of a restore by the epoch alone.
      const again = page.epoch === heard ? 0 : await putBack(store.outbox, page.epoch);
      heard = page.epoch;
      await take(store.replica, page);
      cursor = page.cursor;
      progress();
      anew ||= again > 0;
      if (!more) return anew;
    } catch (no) {
      if (!(no instanceof NoAnswer)) throw no;
      if (no.trouble === "feed_anew") {
        // First to be told again, then the wipe: after a kill between, the same answer comes again.
        await putBack(store.outbox, null);
        await wipe(store.replica);
        progress();
        return true;
      }
      // A cursor that the server cannot read is of no use: the replica is pulled afresh.
      if (no.trouble === "malformed" && cursor !== null) {
        await wipe(store.replica);
        progress();
      }
      throw no;
    }
  }
}

function pageAfter(deps: Deps, token: string, cursor: string | null): Promise<PullPage> {
  const ask = {
    method: "POST" as const,
    path: "/api/sync/pull",
    headers: {
      "content-type": "application/json",
      authorization: `Bearer ${token}`,
    },
    body: pullBody(cursor),
    timeoutMs: TIMEOUT_MS,
  };
  return exchange(deps, ask, readPullPage);
}
