/** What is wanted, for a keyboard: all in sight in two rows, chosen by the first letter. */
import { daysToName, type WantedFields } from "../wanted/wanted";
import { BACKS, BASES, SHORT_MOST, WORKS } from "../wanted/wanted";
import { promisedSaid } from "../wanted/WantedFieldset";
import { testid } from "../testids";
import { dayInWords, words } from "../words";
import { Field } from "../../ui/Field";
import { counterWords } from "./words";

export function DenseWanted(props: {
  fields: WantedFields;
  /** As the casing before. */
  carried: boolean;
  offer: string | null;
  fault: string | null;
  today: string;
  onFields: (some: Partial<WantedFields>) => void;
}) {
  const { fields, offer, onFields } = props;
  const w = counterWords.value;
  const all = words.value;
  const { first, last } = daysToName(props.today);
  const named = fields.promised_on !== "" && fields.promised_on !== offer;
  const short = { maxLength: SHORT_MOST, spellcheck: false };
  return (
    <fieldset class="dense">
      <legend>
        {all.wanted_title}
        {props.carried && <span class="soft"> · {w.as_before}</span>}
      </legend>
      <div class="four">
        <Select
          id="work"
          title={all.work}
          values={WORKS}
          names={all.works}
          value={fields.work}
          onValue={(work) => onFields({ work })}
        />
        <Select
          id="basis"
          title={all.basis}
          values={BASES}
          names={all.bases}
          value={fields.basis}
          onValue={(basis) => onFields({ basis })}
        />
        <Field
          id="tread-design"
          title={all.tread_design}
          value={fields.work === "retread" ? fields.tread_design : ""}
          onValue={(tread_design) => onFields({ tread_design })}
          input={{ ...testid("tread-design"), ...short, disabled: fields.work !== "retread" }}
        />
        <Field
          id="purchase-order"
          title={all.purchase_order}
          value={fields.purchase_order}
          onValue={(purchase_order) => onFields({ purchase_order })}
          input={{ ...testid("purchase-order"), ...short }}
        />
        <Field
          id="unit"
          title={all.unit}
          value={fields.unit}
          onValue={(unit) => onFields({ unit })}
          input={{ ...testid("unit"), ...short }}
        />
        <Select
          id="back-to"
          title={all.back_to}
          values={BACKS}
          names={all.backs}
          value={fields.back_to}
          onValue={(back_to) => onFields({ back_to })}
        />
        <Field
          id="promised-on"
          title={w.another_day}
          fault={props.fault}
          asks={
            named && offer !== null && fields.promised_on < offer
              ? all.promised_earlier(dayInWords(offer))
              : null
          }
          value={fields.promised_on}
          onValue={(promised_on) => onFields({ promised_on })}
          input={{ ...testid("promised-on"), type: "date", min: first, max: last }}
        />
        <p class="promised" role="status" {...testid("promised")}>
          <b>{props.fault === null && promisedSaid(fields, offer, all)}</b>
        </p>
      </div>
    </fieldset>
  );
}

function Select<V extends string>(props: {
  id: string;
  title: string;
  values: V[];
  names: Record<V, string>;
  value: V;
  onValue: (value: V) => void;
}) {
  const { id, values, names, value } = props;
  return (
    <div class="field">
      <label for={id}>{props.title}</label>
      <select
        id={id}
        value={value}
        onChange={(event) => props.onValue((event.target as HTMLSelectElement).value as V)}
        {...testid(id)}
      >
        {values.map((one) => (
          <option key={one} value={one} selected={one === value}>
            {names[one]}
          </option>
        ))}
      </select>
    </div>
  );
}
