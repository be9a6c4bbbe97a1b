/** A part that is rarely wanted: one line that says what is in it, opened and left by a key. */
import type { ComponentChildren } from "preact";
import { useEffect } from "preact/hooks";
import { testid } from "../testids";

/** Keys that neither a browser nor a screen reader has for itself. */
export type FoldKey = "F2" | "F4" | "F8" | "F9";

export function Fold(props: {
  id: string;
  title: string;
  /** What is in it, in words. */
  said: string;
  /** The key that opens it and leads back; without one it is opened by Enter on its line. */
  by?: FoldKey;
  open: boolean;
  onOpen: (open: boolean) => void;
  children: ComponentChildren;
}) {
  const { id, by, open, onOpen } = props;

  useEffect(() => {
    const listen = (event: KeyboardEvent) => {
      if (event.key !== by || event.shiftKey || event.ctrlKey || event.altKey || event.metaKey)
        return;
      if (document.querySelector("dialog[open]") !== null) return;
      event.preventDefault();
      const part = document.getElementById(id) as HTMLDetailsElement | null;
      if (part === null) return;
      if (part.open && part.contains(document.activeElement)) {
        onOpen(false);
        part.querySelector("summary")?.focus();
        return;
      }
      // At once: the next key is meant for what is in it.
      part.open = true;
      part.querySelector<HTMLElement>(FIRST)?.focus();
      onOpen(true);
    };
    addEventListener("keydown", listen);
    return () => removeEventListener("keydown", listen);
  }, [id, by, onOpen]);

  return (
    <details
      id={id}
      class="fold"
      open={open}
      onToggle={(event) => {
        const now = (event.target as HTMLDetailsElement).open;
        if (now !== open) onOpen(now);
      }}
    >
      <summary {...testid(id)}>
        <b>{props.title}</b>
        {!open && props.said !== "" && (
          <span class="soft" {...testid(`${id}-said`)}>
            {props.said}
          </span>
        )}
        {by !== undefined && <kbd>{by}</kbd>}
      </summary>
      <div class="fold-in">{props.children}</div>
    </details>
  );
}

const FIRST = ".fold-in :is(input, select, textarea, button):not(:disabled)";
