/** One label after the other, typed or from a scanner that types; a sound one is told at once. */
import { useState } from "preact/hooks";
import { fault as faultOf, shown, tidy } from "../../domain/labels";
import { nowOf } from "../../domain/replaced";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { testid } from "../testids";
import { useWedge } from "../wedge";
import { words } from "../words";
import { mistyped, odd } from "../labels/labelWords";
import { counterWords } from "./words";

export function ScanField({ onLabel }: { onLabel: (label: string) => void }) {
  const w = counterWords.value;
  const all = words.value;
  const phone = usePhone();
  const [typed, setTyped] = useState("");
  const [fault, setFault] = useState<string | null>(null);
  const [note, setNote] = useState<string | null>(null);

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
    const now = phone.now.value;
    setNote(odd(code, now, all));
    onLabel(nowOf(code, now.casings.values()));
  }

  return (
    <Field
      id="label"
      title={w.hand_over_scan}
      hint={w.hand_over_scan_hint}
      fault={fault}
      asks={note}
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
          const wrong = mistyped(value, phone.now.value, all);
          if (wrong === null) take(tidy(value));
          else setFault(wrong);
        },
      }}
    />
  );
}
