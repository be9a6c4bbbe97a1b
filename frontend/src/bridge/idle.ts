/**
 * A device that nobody touches locks itself. Time that a phone slept counts too: it is looked at
 * again when the page comes back into sight. A camera that looks for a label is a hand at work.
 */
import type { Clock } from "../ports/clock";

const TOUCHES = ["pointerdown", "pointermove", "keydown", "wheel", "input"] as const;
const LOOK_MS = 5_000;
const AT_WORK = "video";

export function watchIdle(clock: Clock, minutes: () => number, idle: () => void): void {
  let touched = clock.now();
  const look = () => {
    const now = clock.now();
    if (document.querySelector(AT_WORK) !== null) touched = now;
    // A clock that was set back says nothing: better locked too early.
    if (Math.abs(now - touched) >= minutes() * 60_000) idle();
  };
  const turn = () => {
    look();
    clock.after(LOOK_MS, turn);
  };
  for (const touch of TOUCHES) {
    addEventListener(
      touch,
      () => {
        look(); // the first touch after a long while opens nothing
        touched = clock.now();
      },
      { capture: true, passive: true },
    );
  }
  document.addEventListener("visibilitychange", look);
  turn();
}
