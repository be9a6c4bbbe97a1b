/** How long a finding is: by keys, or typed in millimetres or inches. */
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { Field } from "../../ui/Field";
import { testid } from "../testids";
import { decimal, words } from "../words";
import { LENGTHS_MM, lengthIn, lengthSaid } from "./findings";

export function LengthPart(props: {
  /** Millimetres; null where nobody has said it. */
  mm: number | null;
  onMm: (mm: number | null) => void;
  /** What stands between the keys and the field. */
  children?: ComponentChildren;
}) {
  const { mm, onMm } = props;
  const w = words.value;
  const [typed, setTyped] = useState(mm === null ? "" : String(mm));
  const [fault, setFault] = useState<string | null>(null);

  function type(next: string) {
    setTyped(next);
    const read = lengthIn(next);
    setFault(read === "none" ? w.condition_size_fault(next.trim().slice(0, 12)) : null);
    onMm(read === "none" ? null : read);
  }

  return (
    <>
      <fieldset class="choice">
        <legend>{w.condition_size}</legend>
        <div class="lengths">
          {LENGTHS_MM.map((one) => (
            <button
              key={one}
              type="button"
              class="button"
              aria-pressed={mm === one}
              aria-label={lengthSaid(one, w, decimal)}
              onClick={() => type(mm === one ? "" : String(one))}
              {...testid(`mm-${one}`)}
            >
              {one} mm
              <span>{w.condition_inches(decimal(one / 25.4))}</span>
            </button>
          ))}
        </div>
      </fieldset>
      {props.children}
      <Field
        id="finding-mm"
        title={w.condition_size_typed}
        fault={fault}
        hint={mm === null ? w.condition_size_none : lengthSaid(mm, w, decimal)}
        value={typed}
        onValue={type}
        input={{ ...testid("finding-mm"), inputMode: "numeric", maxLength: 6 }}
      />
    </>
  );
}
