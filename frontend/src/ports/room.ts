/** How much room the browser gives us on this device, and whether it promises to keep it. */
import type { Room } from "../domain/room";

/** Null where the browser does not say. A worker and an old browser have no such question. */
export async function estimate(): Promise<Room | null> {
  const manager = navigator.storage as StorageManager | undefined;
  try {
    const said = await manager?.estimate?.();
    if (said?.quota === undefined || said.usage === undefined) return null;
    return { used: said.usage, whole: said.quota };
  } catch {
    return null;
  }
}

/** Whether the browser keeps our data when the device runs short; null where it does not say. */
export async function isKept(): Promise<boolean | null> {
  const manager = navigator.storage as StorageManager | undefined;
  try {
    return (await manager?.persisted?.()) ?? null;
  } catch {
    return null;
  }
}

/** Whether a write failed because there is no room; browsers have two names for it. */
export const isFull = (no: unknown): boolean =>
  no instanceof DOMException &&
  (no.name === "QuotaExceededError" || no.name === "NS_ERROR_FILE_NO_DEVICE_SPACE");
