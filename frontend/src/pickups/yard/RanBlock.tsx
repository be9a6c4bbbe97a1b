/** Where it ran, as the customer says: one line as long as nobody asks for more. */
import type { PulledFor } from "../../domain/operation";
import type { Casing } from "../../domain/rows";
import { Choice } from "../../ui/Choice";
import { Field } from "../../ui/Field";
import { PULLED } from "../seen/seen";
import { testid } from "../testids";
import { words } from "../words";
import { odometerFault, type Ran, ranSaid } from "./ran";

const WHEEL_MOST = 40;

export function RanBlock(props: {
  ran: Ran;
  unit: string;
  /** The casing before it, from which the unit may be carried on. */
  before: Casing | undefined;
  open: boolean;
  onOpen: (open: boolean) => void;
  onRan: (some: Partial<Ran>) => void;
}) {
  const { ran, open, onOpen, onRan } = props;
  const w = words.value;
  const said = ranSaid(ran, props.unit, w, props.before);
  return (
    <section class="wants-part" aria-label={w.ran_title}>
      <div class="row">
        <span>
          <b>{w.ran_title}</b>
          <br />
          <span class={said === "" ? "soft" : ""} {...testid("ran-said")}>
            {said || w.ran_none}
          </span>
        </span>
        <button
          type="button"
          class="button"
          aria-expanded={open}
          aria-label={`${w.ran_title}: ${open ? w.wanted_done : w.wanted_change}`}
          onClick={() => onOpen(!open)}
          {...testid("ran-change")}
        >
          {open ? w.wanted_done : w.wanted_change}
        </button>
      </div>
      {open && (
        <>
          <Field
            id="odometer"
            title={w.odometer}
            value={ran.odometer}
            fault={odometerFault(ran.odometer, w)}
            onValue={(odometer) => onRan({ odometer })}
            input={{ ...testid("odometer"), inputMode: "numeric", maxLength: 9 }}
          />
          <Choice
            name="odometer-in"
            title={w.odometer_unit}
            values={["mi", "km"]}
            names={w.odometer_units}
            value={ran.odometer_in}
            onValue={(odometer_in) => onRan({ odometer_in })}
          />
          <Field
            id="wheel"
            title={w.wheel}
            hint={w.wheel_hint}
            value={ran.wheel}
            onValue={(wheel) => onRan({ wheel })}
            input={{ ...testid("wheel"), maxLength: WHEEL_MOST }}
          />
          <div class="field">
            <label for="pulled-for">{w.pulled_for}</label>
            <select
              id="pulled-for"
              value={ran.pulled_for}
              onChange={(event) =>
                onRan({ pulled_for: (event.target as HTMLSelectElement).value as PulledFor })
              }
              {...testid("pulled-for")}
            >
              {PULLED.map((why) => (
                <option key={why} value={why} selected={why === ran.pulled_for}>
                  {why === "" ? w.pulled_untold : w.pulled[why]}
                </option>
              ))}
            </select>
          </div>
        </>
      )}
    </section>
  );
}
