/** Telling what a sheet holds: once at a time, with its photos; what follows only once it is kept. */
import { useState } from "preact/hooks";
import type { Telling } from "../../domain/operation";
import { usePhone } from "../context";
import type { Sheet } from "../yard/draft";

interface Also {
  /** Kept before it, so that a kill between the two loses nothing. */
  first?: () => Promise<void>;
  /** It is on the disk. */
  kept: () => void;
}

/** `ready`: nothing of the sheet is still in work. */
export function useTelling<F extends object>(sheet: Sheet<F>, ready: boolean) {
  const phone = usePhone();
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState(false);

  async function tell(telling: Telling, { first, kept }: Also): Promise<void> {
    if (busy || !ready || phone.now.value.shut !== null || !sheet.ready) return;
    setBusy(true);
    setFailed(false);
    try {
      const photos = sheet.photos.map(({ sha256, blob }) => ({ sha256, blob }));
      await first?.();
      await sheet.enter(telling, photos, () => {
        // The next one may be told from here on: an Enter in between must not be lost.
        setBusy(false);
        kept();
      });
    } catch {
      setBusy(false);
      setFailed(true);
    }
  }
  return { busy, failed, tell };
}
