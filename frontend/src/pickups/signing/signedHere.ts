/** Who signed for a visit, as this phone has told it; null where another phone did, or long ago. */
import { useEffect, useState } from "preact/hooks";
import type { SignedFor } from "../../domain/operation";
import { told } from "../../store/outbox";
import { usePhone } from "../context";
import { lastEnd } from "./lastEnd";

export function useSignedHere(visit: string): SignedFor | null {
  const { now, deps } = usePhone();
  const [found, setFound] = useState<SignedFor | null>(null);
  useEffect(() => {
    let here = true;
    void told(deps.store.outbox).then(({ entries, sent }) => {
      if (here) setFound(lastEnd([...sent, ...entries], visit));
    });
    return () => {
      here = false;
    };
  }, [visit, now.value]);
  return found;
}
