/** They will not sign: why, by a key that the receipt says in any language, and in their words. */
import { Choice } from "../../ui/Choice";
import { Field } from "../../ui/Field";
import { testid } from "../testids";
import { words } from "../words";
import { NOTE_MOST, roomLeft } from "../yard/fields";
import { REFUSALS, type SigningFault, type SigningFields } from "./signing";

type Say = (some: Partial<SigningFields>) => void;

export function Refusal(props: { fields: SigningFields; fault: SigningFault | null; onSay: Say }) {
  const { fields, fault, onSay } = props;
  const w = words.value;
  const at = (where: SigningFault["at"]) => (fault?.at === where ? fault.said : null);
  return (
    <div class="stack" id="refused" tabIndex={-1}>
      <Choice
        name="refused"
        title={w.sign_why}
        values={REFUSALS}
        names={w.sign_refusals}
        value={fields.refused === "" ? null : fields.refused}
        onValue={(refused) => onSay({ refused })}
      />
      <p class="fault" role="alert" {...testid("refused-fault")}>
        {at("refused")}
      </p>
      <Words fields={fields} fault={at("unsigned")} onSay={onSay} title={w.sign_why_words} />
    </div>
  );
}

/** What is to be said of it besides. */
export function Words(props: {
  fields: SigningFields;
  fault: string | null;
  title: string;
  onSay: Say;
}) {
  const { unsigned } = props.fields;
  return (
    <Field
      id="unsigned"
      title={props.title}
      value={unsigned}
      fault={props.fault}
      asks={roomLeft(unsigned, words.value)}
      onValue={(said) => props.onSay({ unsigned: said })}
      input={{ ...testid("unsigned"), maxLength: NOTE_MOST }}
    />
  );
}
