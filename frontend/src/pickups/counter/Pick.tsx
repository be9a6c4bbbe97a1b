/**
 * A field with a list to pick from: typed on to make the list short, arrow keys to choose, Enter or
 * Tab to take. What is in no list can be typed all the same.
 */
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Field, type FieldProps } from "../../ui/Field";
import { testid } from "../testids";

export interface Option {
  key: string;
  said: string;
  /** Beside it: its code, or a caution. */
  beside?: string;
}

export function Pick(
  props: Omit<FieldProps, "after" | "beside"> & {
    options: Option[];
    /** What the list is, for those who cannot see it. */
    list: string;
    /** The first is what is most likely meant: it needs no arrow key. */
    first: boolean;
    /** The list stands open before anything is typed. */
    early?: boolean;
    /** What is in no list is not told: Enter leaves it standing. */
    only?: boolean;
    /** Backspace where nothing is typed. */
    onErase?: () => void;
    onPick: (option: Option, by: "Enter" | "Tab" | "hand") => void;
    onLeave?: () => void;
  },
): JSX.Element {
  const {
    id,
    options,
    first,
    early = false,
    only,
    list: named,
    onPick,
    onErase,
    onLeave,
    ...field
  } = props;
  const [open, setOpen] = useState(false);
  const [moved, setMoved] = useState<number | null>(null);
  const shown = open && options.length > 0;
  const list = useRef<HTMLDivElement>(null);
  useEffect(() => list.current?.scrollIntoView({ block: "nearest" }), [shown]);
  const at = !shown ? -1 : Math.min(moved ?? (first ? 0 : -1), options.length - 1);

  function close() {
    setOpen(false);
    setMoved(null);
  }

  function take(option: Option, by: "Enter" | "Tab" | "hand") {
    close();
    onPick(option, by);
  }

  function onKeyDown(event: KeyboardEvent) {
    const chosen = options[at];
    switch (event.key) {
      case "ArrowDown":
        setOpen(true);
        setMoved(Math.min(at + 1, options.length - 1));
        return event.preventDefault();
      case "ArrowUp":
        setMoved(Math.max(-1, at - 1));
        return event.preventDefault();
      case "Escape":
        if (!shown) return;
        close();
        return event.preventDefault();
      case "Backspace":
        if ((event.target as HTMLInputElement).value === "") onErase?.();
        return;
      case "Enter":
      case "Tab":
        if (chosen === undefined && only && field.value.trim() !== "" && event.key === "Enter")
          event.preventDefault();
        if (chosen === undefined || event.shiftKey) return;
        take(chosen, event.key);
        // Tab goes on to the next field by itself; Enter goes where the choice leads.
        if (event.key === "Enter") event.preventDefault();
    }
  }

  return (
    <Field
      {...field}
      id={id}
      onValue={(value) => {
        setOpen(early || value.trim() !== "");
        setMoved(null);
        field.onValue(value);
      }}
      input={{
        spellcheck: false,
        ...field.input,
        ...testid(id),
        type: "text",
        role: "combobox",
        "aria-expanded": shown,
        "aria-controls": shown ? `${id}-list` : undefined,
        "aria-autocomplete": "list",
        "aria-activedescendant": at >= 0 ? `${id}-${at}` : undefined,
        onKeyDown,
        // Whoever brings a handler of his own has no early list.
        ...(early && { onFocus: () => setOpen(true) }),
        onBlur: () => {
          close();
          onLeave?.();
        },
      }}
      after={
        shown && (
          <div ref={list} id={`${id}-list`} role="listbox" aria-label={named} class="pick-list">
            {options.map((option, i) => (
              // Keys are for the field above; here a hand or a mouse chooses.
              // biome-ignore lint/a11y/useFocusableInteractive: the field has the focus
              <div
                key={option.key}
                id={`${id}-${i}`}
                role="option"
                aria-selected={i === at}
                class="pick"
                onMouseDown={(event) => {
                  event.preventDefault();
                  take(option, "hand");
                }}
                {...testid(`${id}-pick-${option.key}`)}
              >
                {option.said}
                {option.beside !== undefined && <span class="soft"> {option.beside}</span>}
              </div>
            ))}
          </div>
        )
      }
    />
  );
}
