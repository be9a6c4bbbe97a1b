/** The label of the casing that is being booked in: the next one is proposed, any other is scanned. */
import { fault as faultOf, LENGTH, shown, tidy } from "../../domain/labels";
import { Field } from "../../ui/Field";
import { testid } from "../testids";
import { words } from "../words";
import { labelFault } from "../yard/fields";
import { printing } from "./stock";
import { scannedLabel } from "./visits";
import { counterWords } from "./words";

export function LabelLine(props: {
  /** As typed; "" is the proposed one. */
  typed: string;
  label: string;
  offline: boolean;
  fault: string | null;
  onType: (typed: string) => void;
  onFault: (fault: string | null) => void;
  onNext: () => void;
}) {
  const { typed, label, onFault } = props;
  const w = counterWords.value;
  const all = words.value;
  const sound = faultOf(label) === null;
  const proposed = typed === "" && sound;

  function hint(): string {
    if (typed === "" && scannedLabel.value !== "") return all.label_sound;
    if (proposed) return printing.value.how === "at_once" ? w.proposed_at_once : w.proposed;
    if (printing.value.how === "from_roll") return w.take_from_roll;
    return props.offline ? w.no_connection_roll : w.labels_coming;
  }

  return (
    <Field
      id="label"
      title={all.label}
      hint={hint()}
      good={proposed ? null : sound ? all.label_sound : null}
      fault={props.fault}
      value={typed !== "" ? typed : sound ? shown(label) : ""}
      onValue={(value) => {
        const code = tidy(value);
        const whole = faultOf(code) === null;
        props.onType(whole ? shown(code) : value);
        const wrong = !whole && code.length >= LENGTH && !/[/:?]/.test(value);
        onFault(wrong ? labelFault(value, all) : null);
      }}
      code
      input={{
        ...testid("label"),
        autocapitalize: "characters",
        spellcheck: false,
        onFocus: (event) => (event.target as HTMLInputElement).select(),
        onKeyDown: (event) => {
          // A label leads on to the TIN; a whole casing is saved from there.
          if (event.key !== "Enter") return;
          event.preventDefault();
          const fault = labelFault((event.target as HTMLInputElement).value, all);
          onFault(fault);
          if (fault === null) props.onNext();
        },
      }}
    />
  );
}
