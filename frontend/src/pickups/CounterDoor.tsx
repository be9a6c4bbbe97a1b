/**
 * The door to the counter's screens, which are loaded when somebody of a counter first holds the
 * device; kept on it like the rest of the app, so without network too.
 */
import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import type { Snapshot } from "../bridge/snapshot";
import type { Workplace } from "../store/local";
import { testid } from "./testids";
import { words } from "./words";

type Screens = typeof import("./counter/Workplace");

/** The screens, and what they say otherwise than a yard, once they are here. */
export const counterScreens = signal<Screens | null>(null);

/** Where somebody works who may choose. */
export const chosenWorkplace = signal<Workplace>("road");

const BOTH = new Set(["dispatcher", "admin"]);
const roleOf = ({ people, person }: Snapshot): string =>
  people.find((one) => one.id === person)?.role ?? "";

/** Whoever may work at either chooses. */
export const maySwitch = (now: Snapshot): boolean => BOTH.has(roleOf(now));

export const atCounter = (now: Snapshot): boolean =>
  roleOf(now) === "counter" || (maySwitch(now) && chosenWorkplace.value === "counter");

export function CounterDoor() {
  const [failed, setFailed] = useState(false);
  const w = words.value;
  async function load() {
    setFailed(false);
    try {
      counterScreens.value = await import("./counter/Workplace");
    } catch {
      setFailed(true);
    }
  }
  useEffect(() => {
    if (counterScreens.value === null) void load();
  }, []);
  if (counterScreens.value !== null) return <counterScreens.value.default />;
  return (
    <div class="page stack" {...testid("counter-door")}>
      <h1 tabIndex={-1}>{failed ? w.counter_not_here : w.counter_coming}</h1>
      {failed && (
        <button type="button" class="button primary" onClick={() => void load()}>
          {w.try_again}
        </button>
      )}
    </div>
  );
}
