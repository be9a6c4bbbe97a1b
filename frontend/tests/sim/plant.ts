/** A plant's system: posts its events until they are taken; repeats are the same events. */
import { setTimeout as pause } from "node:timers/promises";

export interface Posted {
  id: string;
  label: string;
  station: string;
  outcome: string;
}

const TRIES = 1000;
const AGAIN_MS = 50;

export async function postEvents(
  at: { upstreams: number[]; plantKey: string },
  events: Posted[],
): Promise<void> {
  const body = JSON.stringify({ events });
  for (let i = 0; i < TRIES; i++) {
    const port = at.upstreams[i % at.upstreams.length];
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
    } catch (fault) {
      if (!(fault instanceof TypeError)) throw fault; // fetch's word for no answer
    }
    await pause(AGAIN_MS);
  }
  throw new Error("the plant's events were not taken");
}
