/**
 * The door to the screens of a pickup and of its labels, whose script is loaded behind the first screen and kept on
 * the device like the rest of the app: there without network too.
 */
import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { route } from "./route";
import { testid } from "./testids";
import { words } from "./words";

type Screen = typeof import("./yard/screens").default;

/** The screens once they are here. */
export const pickupScreens = signal<{ Screen: Screen } | null>(null);

/** Rejects where they have not reached this device. */
export async function loadPickup(): Promise<void> {
  pickupScreens.value ??= { Screen: (await import("./yard/screens")).default };
}

export function PickupDoor() {
  const [failed, setFailed] = useState(false);
  const w = words.value;
  async function load() {
    setFailed(false);
    try {
      await loadPickup();
    } catch {
      setFailed(true);
    }
  }
  useEffect(() => void load(), []);
  if (pickupScreens.value !== null) return <pickupScreens.value.Screen route={route.value} />;
  return (
    <div class="page stack" {...testid("pickup-door")}>
      <h1 tabIndex={-1}>{failed ? w.pickup_not_here : w.counter_coming}</h1>
      {failed && (
        <button type="button" class="button primary" onClick={() => void load()}>
          {w.try_again}
        </button>
      )}
    </div>
  );
}
