/**
 * What a kind of line has to record beside the casing: an offer, a claim, a wheel. Nothing for a
 * casing to retread or to repair. Before saving: `lineFault` (lines.ts); its `at` is a field's id.
 */
import { Choice } from "../../ui/Choice";
import { Field } from "../../ui/Field";
import { testid } from "../testids";
import { words } from "../words";
import { COMPLAINT_MOST, GRADE_MOST, type LineFault, lineFault } from "./lines";
import type { FillSeen, SeenFields } from "./seen";

interface Props {
  fields: SeenFields;
  fill: FillSeen;
  /** What was lacking when somebody tried to save. */
  fault: LineFault | null;
}

export function LineFields(props: Props) {
  switch (props.fields.line) {
    case "sell":
      return <Sale {...props} />;
    case "adjustment":
      return <Claim {...props} />;
    case "wheel_tire":
      return <Wheel {...props} tire />;
    case "wheel":
      return <Wheel {...props} tire={false} />;
    default:
      return null;
  }
}

const saidAt = (fault: LineFault | null, at: LineFault["at"]): string | null =>
  fault?.at === at ? fault.said : null;

function Sale({ fields, fill }: Props) {
  const w = words.value;
  // A price can be told to be none while it is typed.
  const fault = saidAt(lineFault(fields, w), "sale-price");
  return (
    <fieldset class="seen-part stack">
      <legend class="hidden">{w.lines.sell}</legend>
      <p class="caution">{w.sale_say}</p>
      <Field
        id="sale-grade"
        title={w.sale_grade}
        hint={w.sale_grade_hint}
        value={fields.sale_grade}
        onValue={(sale_grade) => fill({ sale_grade })}
        input={{ ...testid("sale-grade"), maxLength: GRADE_MOST }}
      />
      <Field
        id="sale-price"
        title={w.sale_price}
        hint={w.sale_price_hint}
        fault={fault}
        value={fields.sale_price}
        onValue={(sale_price) => fill({ sale_price })}
        input={{ ...testid("sale-price"), inputMode: "decimal", maxLength: 12 }}
      />
      <Choice
        name="sale-pays"
        title={w.sale_pays}
        values={["price", "credit"]}
        names={w.sale_pays_in}
        value={fields.sale_pays}
        onValue={(sale_pays) => fill({ sale_pays })}
      />
    </fieldset>
  );
}

function Claim({ fields, fill, fault }: Props) {
  const w = words.value;
  return (
    <fieldset class="seen-part stack">
      <legend class="hidden">{w.lines.adjustment}</legend>
      <p class="caution">{w.claim_evidence}</p>
      <Field
        id="complaint"
        title={w.complaint}
        rows={2}
        fault={saidAt(fault, "complaint")}
        value={fields.complaint}
        onValue={(complaint) => fill({ complaint })}
        input={{ ...testid("complaint"), maxLength: COMPLAINT_MOST }}
      />
      {fields.tins.every(({ made }) => made !== "retread") && (
        <p class="soft">{w.complaint_ask_tin}</p>
      )}
    </fieldset>
  );
}

function Wheel({ fields, fill, fault, tire }: Props & { tire: boolean }) {
  const w = words.value;
  const rimFault = saidAt(fault, "rim");
  const valveFault = saidAt(fault, "valve-out");
  return (
    <fieldset class="seen-part stack">
      <legend class="hidden">{w.lines[fields.line]}</legend>
      {tire ? <p class="caution">{w.valve_caution}</p> : <p class="soft">{w.wheel_say}</p>}
      <div id="rim" tabIndex={-1}>
        <Choice
          name="rim"
          title={w.rim}
          values={["steel", "aluminum"]}
          names={w.rims}
          value={fields.rim === "" ? null : fields.rim}
          onValue={(rim) => fill({ rim })}
        />
        <p role="alert" class={rimFault === null ? "" : "fault"} {...testid("rim-fault")}>
          {rimFault}
        </p>
      </div>
      {tire && (
        <div>
          <label class="button tick">
            <input
              id="valve-out"
              type="checkbox"
              checked={fields.valve_out}
              onChange={(event) => fill({ valve_out: (event.target as HTMLInputElement).checked })}
              {...testid("valve-out")}
            />
            {w.valve}
          </label>
          <p role="alert" class={valveFault === null ? "" : "fault"} {...testid("valve-fault")}>
            {valveFault}
          </p>
        </div>
      )}
    </fieldset>
  );
}
