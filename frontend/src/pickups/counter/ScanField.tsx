/** One label after the other, typed or from a scanner that types; a sound one is told at once. */
import { useState } from "preact/hooks";
import { fault as faultOf, shown, tidy } from "../../domain/labels";
import { Field } from "../../ui/Field";
import { testid } from "../testids";
import { useWedge } from "../wedge";
import { words } from "../words";
import { labelFault } from "../yard/fields";
import { counterWords } from "./words";

export function ScanField({ onLabel }: { onLabel: (label: string) => void }) {
  const w = counterWords.value;
  const all = words.value;
  const [typed, setTyped] = useState("");
  const [fault, setFault] = useState<string | null>(null);

  useWedge(
    "label",
    ({ text, code, elsewhere }) => {
      if (code !== null) take(code);
      else if (!elsewhere) setFault(all.scan_not_ours(text.slice(0, 40)));
    },
    "typist",
  );

  function take(code: string) {
    setFault(null);
    setTyped("");
    onLabel(code);
  }

  return (
    <Field
      id="label"
      title={w.hand_over_scan}
      hint={w.hand_over_scan_hint}
      fault={fault}
      value={typed}
      onValue={(value) => {
        setFault(null);
        setTyped(faultOf(tidy(value)) === null ? shown(tidy(value)) : value);
      }}
      code
      input={{
        ...testid("label"),
        autocapitalize: "characters",
        spellcheck: false,
        "data-first": "",
        onKeyDown: (event) => {
          if (event.key !== "Enter") return;
          event.preventDefault();
          // What was typed just now may not be drawn yet.
          const value = (event.target as HTMLInputElement).value;
          if (value.trim() === "") return;
          const wrong = labelFault(value, all);
          if (wrong === null) take(tidy(value));
          else setFault(wrong);
        },
      }}
    />
  );
}
