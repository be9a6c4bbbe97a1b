/**
 * Six digits: a field that a keyboard fills, and keys of our own below it for a glove, so that no
 * keyboard of the phone comes up. The sixth digit is the last word; nothing has to be sent off.
 */
import { useLayoutEffect, useRef } from "preact/hooks";
import { DIGITS } from "../../domain/pin";
import { testid } from "../testids";
import { words } from "../words";

const KEYS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "erase", "0"] as const;

export function PinPad(props: {
  id: string;
  title: string;
  value: string;
  busy: boolean;
  /** How long nothing may be typed yet. */
  waitMs?: number;
  fault: string;
  onValue: (typed: string) => void;
}) {
  const { id, title, value, fault, onValue, waitMs = 0 } = props;
  const busy = props.busy || waitMs > 0;
  const field = useRef<HTMLInputElement>(null);
  const w = words.value;
  const wait = waitMs > 0 ? w.lock_wait(Math.ceil(waitMs / 1000)) : "";
  const said = props.busy ? w.lock_checking : `${fault} ${wait}`.trim();
  useLayoutEffect(() => {
    if (!busy) field.current?.focus({ preventScroll: true });
  }, [id, busy]);

  function press(key: (typeof KEYS)[number]) {
    if (busy) return;
    onValue(key === "erase" ? value.slice(0, -1) : (value + key).slice(0, DIGITS));
  }

  return (
    <>
      <div class="field pin-field">
        <label for={id}>{title}</label>
        <input
          ref={field}
          id={id}
          type="text"
          inputMode="none"
          autocomplete="off"
          spellcheck={false}
          value={value}
          readOnly={busy}
          aria-invalid={fault ? "true" : undefined}
          aria-describedby={`${id}-said`}
          data-first
          onInput={(event) => {
            const digits = event.currentTarget.value.replace(/[^0-9]/g, "").slice(0, DIGITS);
            event.currentTarget.value = digits; // a letter leaves no trace
            onValue(digits);
          }}
          {...testid(id)}
        />
        <p id={`${id}-said`} role="status" class={fault ? "fault" : "soft"} {...testid("pin-said")}>
          {said || w.pin_typed(value.length)}
        </p>
      </div>
      <div class="pin-keys">
        {KEYS.map((key) => (
          <button
            type="button"
            key={key}
            class={key === "erase" ? "key word" : "key"}
            onClick={() => press(key)}
            {...testid(`pin-${key}`)}
          >
            {key === "erase" ? w.pin_erase : key}
          </button>
        ))}
      </div>
    </>
  );
}
