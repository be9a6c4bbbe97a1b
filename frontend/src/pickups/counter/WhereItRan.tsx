/** Where a casing ran, as the customer says: position, wheel, unit, odometer, why it was pulled. */
import { Field } from "../../ui/Field";
import { POSITIONS, PULLED, type SeenFields } from "../seen/seen";
import { testid } from "../testids";
import { SHORT_MOST } from "../wanted/wanted";
import { words } from "../words";
import { odometerFault } from "../yard/ran";
import { Choose } from "./Choose";
import { counterWords } from "./words";

export function WhereItRan(props: {
  seen: SeenFields;
  unit: string;
  onSeen: (some: Partial<SeenFields>) => void;
  onUnit: (unit: string) => void;
}) {
  const { seen, onSeen } = props;
  const w = words.value;
  const own = counterWords.value;
  const short = { maxLength: SHORT_MOST, spellcheck: false };
  return (
    <div class="six">
      <Choose
        id="position"
        title={own.position_short}
        values={POSITIONS}
        names={{ "": w.pulled_untold, ...w.positions }}
        value={seen.position}
        onValue={(position) => onSeen({ position })}
      />
      <Field
        id="wheel"
        title={w.wheel}
        value={seen.wheel}
        onValue={(wheel) => onSeen({ wheel })}
        input={{ ...testid("wheel"), ...short }}
      />
      <Field
        id="unit"
        title={own.unit_title}
        value={props.unit}
        onValue={props.onUnit}
        input={{ ...testid("unit"), ...short }}
      />
      <Field
        id="odometer"
        title={w.odometer}
        fault={odometerFault(seen.odometer, w)}
        value={seen.odometer}
        onValue={(odometer) => onSeen({ odometer })}
        input={{ ...testid("odometer"), inputMode: "numeric", maxLength: 12 }}
      />
      <Choose
        id="odometer-in"
        title={w.odometer_unit}
        values={["mi", "km"]}
        names={w.odometer_units}
        value={seen.odometer_in}
        onValue={(odometer_in) => onSeen({ odometer_in })}
      />
      <Choose
        id="pulled-for"
        title={w.pulled_for}
        values={PULLED}
        names={{ "": w.pulled_untold, ...w.pulled }}
        value={seen.pulled_for}
        onValue={(pulled_for) => onSeen({ pulled_for })}
      />
    </div>
  );
}
