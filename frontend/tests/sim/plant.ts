/**
 * A plant's system: posts its events until they are taken, however long the server is away or the
 * machine busy; repeats are the same events. Only a refusal ends it.
 */
import { setTimeout as pause } from "node:timers/promises";

export interface Posted {
  id: string;
  label: string;
  station: string;
  outcome: string;
}

const AGAIN_MS = 50;
const LONGEST_MS = 2000;
/** Every so many tries it says on stderr that it is still at it. */
const SAYS_EACH = 100;

export async function postEvents(
  at: { upstreams: number[]; plantKey: string },
  events: Posted[],
): Promise<void> {
  const body = JSON.stringify({ events });
  for (let i = 0; ; i++) {
    const port = at.upstreams[i % at.upstreams.length];
    let heard: unknown;
    try {
      const response = await fetch(`http://localhost:${port}/api/plant/events`, {
        method: "POST",
        headers: { "content-type": "application/json", authorization: `Key ${at.plantKey}` },
        body,
      });
      const said = await response.text();
      if (response.status === 200) return;
      if (response.status < 500 && response.status !== 429) {
        throw new Error(`the plant's door said ${response.status}: ${said}`);
      }
      heard = `${response.status} ${said}`;
    } catch (fault) {
      if (!(fault instanceof TypeError)) throw fault; // fetch's word for no answer
      heard = fault;
    }
    if ((i + 1) % SAYS_EACH === 0) console.error(`the plant has posted ${i + 1} times: ${heard}`);
    await pause(Math.min(AGAIN_MS * (i + 1), LONGEST_MS));
  }
}
