/**
 * The door to the screen about this device, loaded when somebody asks for it: it brings the library
 * that seals a file. Kept on the device like the rest of the app, so there without network too.
 */
import { useEffect, useState } from "preact/hooks";
import { testid } from "./testids";
import { words } from "./words";

type Screen = typeof import("./device/DeviceScreen").default;

export function DeviceDoor() {
  const [loaded, setLoaded] = useState<{ Screen: Screen } | null>(null);
  const [failed, setFailed] = useState(false);
  const w = words.value;
  async function load() {
    setFailed(false);
    try {
      setLoaded({ Screen: (await import("./device/DeviceScreen")).default });
    } catch {
      setFailed(true);
    }
  }
  useEffect(() => void load(), []);
  if (loaded !== null) return <loaded.Screen />;
  return (
    <div class="page stack" {...testid("device-door")}>
      <h1 tabIndex={-1}>{failed ? w.device_not_here : w.counter_coming}</h1>
      {failed && (
        <button type="button" class="button primary" onClick={() => void load()}>
          {w.try_again}
        </button>
      )}
    </div>
  );
}
