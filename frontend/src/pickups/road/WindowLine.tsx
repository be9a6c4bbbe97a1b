/** When a stop is to be made; a window that was missed is said by word. */
import type { Run } from "../../domain/rows";
import { type StopNow, windowMissed } from "../../domain/run";
import { usePhone } from "../context";
import { testid } from "../testids";
import { missedSaid, windowSaid } from "./stopWords";

export function WindowLine({ run, stop }: { run: Run; stop: StopNow }) {
  const said = windowSaid(stop.stop);
  if (said === null) return null;
  if (!windowMissed(run, stop, usePhone().deps.clock.now())) return <p class="fact">{said}</p>;
  return (
    <p class="fact asks" {...testid("window-missed")}>
      {said}: {missedSaid(stop)}
    </p>
  );
}
