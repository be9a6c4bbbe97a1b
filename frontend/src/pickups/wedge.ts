/**
 * A wedge scanner types what it reads as if it were a keyboard, faster than hands do, and ends
 * with Enter or Tab. Read so, a label counts wherever the driver's last touch was.
 */
import { useEffect, useRef } from "preact/hooks";
import { fault, LENGTH } from "../domain/labels";
import { codeIn } from "../domain/sighting";

/** Slower than this between two keys, and it is a hand. A run of eight is out of a hand's reach. */
export const FASTEST_HAND_MS = 100;

export interface Burst {
  /** One key down; a text where it ended a burst that is long enough for a label. */
  key(key: string, atMs: number): string | null;
  /** The key before began a burst. */
  begins(): boolean;
}

export function burst(): Burst {
  let text = "";
  let last = Number.NEGATIVE_INFINITY;
  return {
    begins: () => text.length === 1,
    key(key, atMs) {
      const fast = atMs - last <= FASTEST_HAND_MS;
      if (key === "Enter" || key === "Tab") {
        const whole = fast && text.length >= LENGTH ? text : null;
        text = "";
        return whole;
      }
      // Shift and its like come between the letters of a burst and belong to none.
      if (key.length !== 1) return null;
      text = fast ? text + key : key;
      last = atMs;
      return null;
    },
  };
}

export interface Scanned {
  text: string;
  /** The label that the text holds, or null where it holds none. */
  code: string | null;
  /** It was typed into the home field itself. */
  home: boolean;
  /** It was typed into another field. */
  elsewhere: boolean;
}

/**
 * Tells of each burst, and keeps its Enter from pressing or sending anything. A label that fell
 * into a field is taken out of it again. `home`: the field that keys go to where none is chosen.
 * A "typist" at a desk is as fast as a scanner: there a text that holds no label is what was typed.
 */
export function useWedge(
  home: string,
  onScanned: (scanned: Scanned) => void,
  hands: "gloved" | "typist" = "gloved",
): void {
  const latest = useRef(onScanned);
  latest.current = onScanned;
  useEffect(() => {
    const reading = burst();
    let began = { field: null as Typed | null, value: "", home: false };
    const listen = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      // A dialog has the keys for itself.
      if (document.querySelector("dialog[open]") !== null) return;
      const whole = reading.key(event.key, event.timeStamp);
      if (event.key.length === 1 && reading.begins()) {
        const at = document.activeElement;
        const wasHome = at?.id === home;
        if (at === null || at === document.body || at.tagName === "H1")
          document.getElementById(home)?.focus();
        const field = typedIn(document.activeElement);
        began = { field, value: field?.value ?? "", home: wasHome };
      }
      if (whole === null) return;
      // No scanner puts a space into a label: a TIN typed in a hurry may look like one without it.
      const found = /\s/.test(whole) ? null : codeIn(whole);
      const code = found !== null && fault(found) === null ? found : null;
      const elsewhere = began.field !== null && began.field.id !== home;
      if (code === null && began.field?.id === home) return; // the field itself says what is wrong
      if (code === null && elsewhere && hands === "typist") return;
      if (code === null && elsewhere && !(began.field instanceof HTMLSelectElement)) {
        // Its end leads on as a hand's does; a scanner's Enter sends no form.
        if (event.key === "Enter" && began.field instanceof HTMLInputElement)
          event.preventDefault();
        return;
      }
      event.preventDefault();
      event.stopPropagation();
      // A list's choice is never typed by a scanner, whatever it read.
      if (code !== null || began.field instanceof HTMLSelectElement) putBack(began);
      latest.current({ text: whole, code, home: began.home, elsewhere });
    };
    addEventListener("keydown", listen, { capture: true });
    return () => removeEventListener("keydown", listen, { capture: true });
  }, [home, hands]);
}

type Typed = HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement;

const typedIn = (at: Element | null): Typed | null =>
  at instanceof HTMLInputElement ||
  at instanceof HTMLTextAreaElement ||
  at instanceof HTMLSelectElement
    ? at
    : null;

function putBack({ field, value }: { field: Typed | null; value: string }): void {
  if (field === null || field.value === value) return;
  field.value = value;
  for (const told of ["input", "change"]) field.dispatchEvent(new Event(told, { bubbles: true }));
}
