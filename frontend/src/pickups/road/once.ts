/** A key that tells something at once: a glove taps twice, and a disk may be full. */
import { useRef, useState } from "preact/hooks";

/** `run` does nothing while one runs; `failed`: the last could not be kept on this device. */
export function useOnce(): { run: (work: () => Promise<void>) => Promise<void>; failed: boolean } {
  const [failed, setFailed] = useState(false);
  const running = useRef(false);
  return { run: once(running, setFailed), failed };
}

export const once =
  (running: { current: boolean }, onFailed: (failed: boolean) => void) =>
  async (work: () => Promise<void>): Promise<void> => {
    if (running.current) return;
    running.current = true;
    try {
      await work();
      onFailed(false);
    } catch {
      onFailed(true);
    } finally {
      running.current = false;
    }
  };
