/**
 * The next action, in thumb reach: below what scrolls, over nothing. It stands in the page where
 * it belongs for keys and readers; how much room it takes at the foot is measured.
 */
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";

export function Bar(props: { children: ComponentChildren }) {
  const bar = useRef<HTMLDivElement>(null);
  useRoom(bar, "--bar", (it) => (getComputedStyle(it).position === "fixed" ? it.offsetHeight : 0));
  return (
    <div class="bar" ref={bar}>
      {props.children}
    </div>
  );
}

/** Keeps a length of the style sheets at what an element takes, as long as it is there. */
export function useRoom<E extends HTMLElement>(
  of: { current: E | null },
  name: string,
  room: (element: E) => number = (it) => it.offsetHeight,
): void {
  useEffect(() => {
    const element = of.current;
    if (element === null) return;
    const { style } = document.documentElement;
    const watch = new ResizeObserver(() => style.setProperty(name, `${room(element)}px`));
    watch.observe(element);
    return () => {
      watch.disconnect();
      style.removeProperty(name);
    };
  }, []);
}
