/**
 * The label: typed, by camera, or from a wedge scanner. A sound one is set in groups of four and
 * leads on to the TIN; a wrong one says in words what is wrong with it.
 */
import { fault as faultOf, LENGTH, shown, tidy } from "../../domain/labels";
import { Field } from "../../ui/Field";
import { testid } from "../testids";
import { type Scanned, useWedge } from "../wedge";
import { words } from "../words";
import { mistyped, odd } from "../labels/labelWords";
import { useCamera } from "../labels/useCamera";
import { usePhone } from "../context";
import { nextOfRoll, ofOwnRoll, ownRolls, proposed } from "./rollLabel";

export function LabelField(props: {
  value: string;
  fault: string | null;
  /** The label of the casing before it: the next of its roll is known by its last three symbols. */
  last: string | null;
  onValue: (value: string) => void;
  onFault: (fault: string | null) => void;
  /** Given a label that came whole: scanned, of a roll, or typed and ended with Enter. */
  onWhole?: (code: string) => void;
}) {
  const { value, fault, onValue, onFault } = props;
  const w = words.value;
  const known = usePhone().now.value;
  const candidate = tidy(value);
  const sound = faultOf(candidate) === null;
  const own = ownRolls(known.person, known.rolls, known.casings.values(), known.spoiled);
  const endsSo = (typed: string) => ofOwnRoll(own, typed) ?? nextOfRoll(props.last, typed);
  const next = value.trim() === "" ? proposed(own) : endsSo(value);

  useWedge("label", ({ text, code, home, elsewhere }: Scanned) => {
    if (code !== null && props.onWhole) props.onWhole(code);
    else if (code !== null && sound && code !== candidate && !home)
      onFault(w.label_another(shown(code)));
    else if (code !== null) take(code);
    else if (!elsewhere) onFault(w.scan_not_ours(text.slice(0, 40)));
  });

  function take(code: string) {
    if (props.onWhole) return props.onWhole(code);
    onFault(null);
    onValue(shown(code));
    document.getElementById("tin")?.focus();
  }

  const camera = useCamera({ id: "label", testid: "scan", sound }, take, onFault);

  function settle(typed: string) {
    const code = tidy(typed);
    if (code === "") return onFault(null);
    const wrong = mistyped(typed, known, w);
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
      onFault(/[/:?]/.test(next) ? null : mistyped(next, known, w));
  }

  return (
    <>
      <Field
        id="label"
        title={w.label}
        hint={props.last === null && own.rolls.length === 0 ? w.label_hint : w.label_hint_next}
        good={sound ? w.label_sound : null}
        asks={sound ? odd(candidate, known, w) : null}
        fault={fault}
        value={value}
        onValue={typed}
        code
        beside={camera.key}
        after={
          next !== null && (
            <button
              type="button"
              class="button"
              onClick={() => take(next)}
              {...testid("label-next")}
            >
              {own.rolls.flat().includes(next)
                ? w.label_own(shown(next))
                : w.label_next(shown(next))}
            </button>
          )
        }
        input={{
          ...testid("label"),
          autocapitalize: "characters",
          spellcheck: false,
          enterkeyhint: "next",
          onBlur: (event) => {
            const typedNow = (event.target as HTMLInputElement).value;
            // The key that offers it says what is meant.
            if (endsSo(typedNow) === null) settle(typedNow);
          },
          onKeyDown: (event) => {
            if (event.key !== "Enter") return;
            event.preventDefault();
            const typedNow = (event.target as HTMLInputElement).value;
            const ofRoll = endsSo(typedNow);
            if (ofRoll !== null) return take(ofRoll);
            settle(typedNow);
            if (faultOf(tidy(typedNow)) !== null) return;
            if (props.onWhole) props.onWhole(tidy(typedNow));
            else document.getElementById("tin")?.focus();
          },
        }}
      />
      {camera.dialog}
    </>
  );
}
