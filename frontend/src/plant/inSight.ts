/** What opens below the finger that asked for it comes into sight, whole where there is room. */
import { useEffect, useRef } from "preact/hooks";

export function useInSight<E extends HTMLElement>(when: unknown) {
  const ref = useRef<E>(null);
  useEffect(() => {
    ref.current?.scrollIntoView({ block: "nearest" });
  }, [when]);
  return ref;
}
