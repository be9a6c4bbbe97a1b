/**
 * The door to the floor's screens: a device that was enrolled at a plant shows them, and loads them
 * when somebody first holds it; kept on it like the rest of the app, so without network too.
 */
import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import type { Snapshot } from "../bridge/snapshot";
import { route } from "../pickups/route";
import { testid } from "../pickups/testids";
import { words } from "../pickups/words";

type Screen = typeof import("./FloorScreen").default;

/** The screens once they are here. */
export const floorScreens = signal<{ Screen: Screen } | null>(null);

export const atPlant = ({ sites, enrolment }: Snapshot): boolean =>
  sites.some(({ id, kind }) => id === enrolment?.site && kind === "plant");

export function FloorDoor() {
  const [failed, setFailed] = useState(false);
  const w = words.value;
  async function load() {
    setFailed(false);
    try {
      floorScreens.value ??= { Screen: (await import("./FloorScreen")).default };
    } catch {
      setFailed(true);
    }
  }
  useEffect(() => void load(), []);
  if (floorScreens.value !== null) return <floorScreens.value.Screen route={route.value} />;
  return (
    <div class="page stack" {...testid("floor-door")}>
      <h1 tabIndex={-1}>{failed ? w.floor_not_here : w.counter_coming}</h1>
      {failed && (
        <button type="button" class="button primary" onClick={() => void load()}>
          {w.try_again}
        </button>
      )}
    </div>
  );
}
