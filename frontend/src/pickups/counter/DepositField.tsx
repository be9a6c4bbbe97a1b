/** What is left as a deposit, asked between the list and the name, and said back. */
import { Field } from "../../ui/Field";
import { testid } from "../testids";
import { money } from "../words";
import { depositIn, depositSaid } from "./deposit";
import { counterWords } from "./words";

export function DepositField(props: { value: string; onValue: (typed: string) => void }) {
  const w = counterWords.value;
  const read = depositIn(props.value);
  return (
    <Field
      id="deposit"
      title={w.deposit}
      hint={w.deposit_hint}
      fault={read === "none" ? w.deposit_fault(props.value.trim().slice(0, 60)) : null}
      good={read === null || read === "none" ? null : w.deposit_back(depositSaid(read, money))}
      value={props.value}
      onValue={props.onValue}
      input={{
        ...testid("deposit"),
        maxLength: 60,
        spellcheck: false,
        onKeyDown: (event) => {
          if (event.key !== "Enter") return;
          event.preventDefault();
          if (read !== "none") document.getElementById("signer")?.focus();
        },
      }}
    />
  );
}
