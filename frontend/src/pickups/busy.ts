/** Photos and drawings that are being made: busy until the last of them is done. */
import { useState } from "preact/hooks";

/** `onBusy(true)` when one begins, `onBusy(false)` when one is done. */
export function useBusy(): [busy: boolean, onBusy: (begins: boolean) => void] {
  const [running, setRunning] = useState(0);
  return [running > 0, (begins) => setRunning((now) => now + (begins ? 1 : -1))];
}
