/** Photos that were told under one name and are kept under another, or not at all. Pure. */
import type { Telling } from "./operation";

/**
 * The same telling with other photos in its lists: each hash that is in `now` gives way to what
 * stands there, or goes where that is null. Nothing else is touched, a signature neither.
 */
export function withPhotos(telling: Telling, now: ReadonlyMap<string, string | null>): Telling {
  const walk = (value: unknown): unknown => {
    if (Array.isArray(value)) {
      return value.flatMap((one) => {
        if (typeof one !== "string") return [walk(one)];
        const other = now.get(one);
        if (other === undefined) return [one];
        return other === null ? [] : [other];
      });
    }
    if (typeof value !== "object" || value === null) return value;
    return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, walk(one)]));
  };
  return { ...telling, payload: walk(telling.payload) } as Telling;
}
