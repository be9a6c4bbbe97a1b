/** Photos, apart from the operations and by content; one is dropped only on the answer "here". */
import { isFull } from "../ports/room";
import { bringIn, leftOutPhotos } from "../store/leftOut";
import { dropPhoto, photo, refuse, unsentPhotos } from "../store/outbox";
import { type Deps, exchange, NoAnswer } from "./exchange";
import { readPhotoAnswer } from "./wire";

const TIMEOUT_MS = 120_000;
const NOTHING = { field: null, value: null, allowed: null };

/** What waits in the outbox goes first: it makes room for what was left with its sheet. */
export async function sendPhotos(deps: Deps, progress: () => void): Promise<void> {
  await sendThose(deps, progress);
  while ((await broughtIn(deps)) > 0) await sendThose(deps, progress);
}

async function broughtIn({ store }: Deps): Promise<number> {
  const before = (await leftOutPhotos(store.local)).length;
  try {
    return await bringIn(store);
  } catch (no) {
    if (!isFull(no)) throw no;
    return before - (await leftOutPhotos(store.local)).length;
  }
}

async function sendThose(deps: Deps, progress: () => void): Promise<void> {
  let away: NoAnswer | null = null;
  for (const sha256 of await unsentPhotos(deps.store.outbox)) {
    const blob = await photo(deps.store.outbox, sha256);
    if (blob === null) continue;
    const ask = {
      method: "PUT" as const,
      path: `/api/photos/${sha256}`,
      headers: { "content-type": "image/jpeg" },
      body: blob,
      timeoutMs: TIMEOUT_MS,
    };
    try {
      const answer = await exchange(deps, ask, readPhotoAnswer);
      if (answer.here && answer.sha256 === sha256) await dropPhoto(deps.store.outbox, sha256);
      else away = new NoAnswer("broken");
    } catch (no) {
      if (!(no instanceof NoAnswer)) throw no;
      if (no.trouble === "too_large" || no.trouble === "malformed") {
        const code = no.problem?.code || no.trouble;
        const { field, value, allowed } = no.problem?.faults[0] ?? NOTHING;
        const at = deps.clock.now();
        await refuse(deps.store.outbox, { id: sha256, at, code, field, value, allowed });
      } else if (no.trouble === "broken") away = no;
      else throw no;
    }
    progress();
  }
  if (away !== null) throw away;
}
