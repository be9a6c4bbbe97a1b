/**
 * The label, typed or from a wedge scanner (which types and ends with Enter). A sound one is set
 * in groups of four and leads on to the TIN; a wrong one says in words what is wrong with it.
 */
import { useEffect } from "preact/hooks";
import { fault as faultOf, LENGTH, shown, tidy } from "../../domain/labels";
import { Field } from "../../ui/Field";
import { testid } from "../testids";
import { words } from "../words";
import { labelFault } from "./fields";

export function LabelField(props: {
  value: string;
  fault: string | null;
  onValue: (value: string) => void;
  onFault: (fault: string | null) => void;
}) {
  const { value, fault, onValue, onFault } = props;
  const w = words.value;
  const candidate = tidy(value);
  const sound = faultOf(candidate) === null;

  // A scanner that types while no field is chosen means the label.
  useEffect(() => {
    const toLabel = (event: KeyboardEvent) => {
      const nowhere =
        document.activeElement === document.body || document.activeElement?.tagName === "H1";
      if (nowhere && event.key.length === 1 && !event.ctrlKey && !event.metaKey && !event.altKey)
        document.getElementById("label")?.focus();
    };
    addEventListener("keydown", toLabel);
    return () => removeEventListener("keydown", toLabel);
  }, []);

  function settle(typed: string) {
    const code = tidy(typed);
    if (code === "") return onFault(null);
    const wrong = labelFault(typed, w);
    onFault(wrong);
    if (wrong === null) onValue(shown(code));
  }

  function typed(next: string) {
    const code = tidy(next);
    onValue(faultOf(code) === null ? shown(code) : next);
    // While it is still being typed, only a symbol that no label holds is spoken of.
    const wrong = faultOf(code);
    if (
      wrong === "symbol_not_used" ||
      (wrong !== null && code.length >= LENGTH && wrong !== "empty")
    )
      onFault(/[/:?]/.test(next) ? null : labelFault(next, w));
  }

  return (
    <Field
      id="label"
      title={w.label}
      hint={w.label_hint}
      good={sound ? w.label_sound : null}
      fault={fault}
      value={value}
      onValue={typed}
      code
      input={{
        ...testid("label"),
        autocapitalize: "characters",
        spellcheck: false,
        enterkeyhint: "next",
        onBlur: (event) => settle((event.target as HTMLInputElement).value),
        onKeyDown: (event) => {
          if (event.key !== "Enter") return;
          event.preventDefault();
          const typedNow = (event.target as HTMLInputElement).value;
          settle(typedNow);
          if (faultOf(tidy(typedNow)) === null) document.getElementById("tin")?.focus();
        },
      }}
    />
  );
}
