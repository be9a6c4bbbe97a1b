/**
 * How this device stands with the office, asked with the push cookie: a locked one fetches nothing
 * and must hear all the same that it is closing or was lost; a closing one says what it still holds.
 */
import { leftOutPhotos } from "../store/leftOut";
import { told } from "../store/outbox";
import { type Deps, exchange, NoAnswer } from "./exchange";
import { readStanding } from "./wire";

/** Throws NoAnswer with `device_closing` or `device_revoked` where it is so. */
export async function stand(deps: Deps): Promise<void> {
  const { entries, photos } = await told(deps.store.outbox);
  const left = await leftOutPhotos(deps.store.local);
  const ask = {
    method: "POST" as const,
    path: "/api/devices/standing",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ waits: entries.length + photos.length + left.length }),
    timeoutMs: 20_000,
  };
  if ((await exchange(deps, ask, readStanding)) === "closing") throw new NoAnswer("device_closing");
}
