/** What was taken, casing by casing, to be shown to the customer. */
import { Bar } from "../../ui/Bar";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { when, words } from "../words";
import { CasingList } from "./CasingList";
import { pickupOf, yardName } from "./visits";

export function ReceiptScreen({ pickup: id }: { pickup: string }) {
  const now = usePhone().now.value;
  const w = words.value;
  const pickup = pickupOf(now, id);
  if (pickup === null) return <Back />;
  // What the office's server could not take is not promised on paper either.
  const casings = pickup.casings.filter((casing) => casing.standing !== "needs_you");
  const refused = pickup.casings.length - casings.length;
  const total = pickup.casings.length === 0 ? pickup.count : casings.length;
  const by = pickup.casings.find((casing) => casing.by !== null)?.by;
  const name = now.people.find((person) => person.id === by)?.name;
  return (
    <div class="page stack" {...testid("receipt")}>
      <Back />
      <h1 tabIndex={-1}>{w.receipt}</h1>
      <p>
        <b>{yardName(now, pickup.yard)}</b>
        <br />
        {pickup.finished_at === null ? w.not_finished : w.finished_at(when(pickup.finished_at))}
        {name !== undefined && ` · ${w.receipt_by(name)}`}
      </p>
      <p class="count big">
        <b>{w.receipt_total(total)}</b>
        {pickup.customer_count !== null && `, ${w.customer_says(pickup.customer_count)}`}
      </p>
      <p class="caution">{w.receipt_say}</p>
      {refused > 0 && <p class="fault">{w.finish_needs_you(refused)}</p>}
      <CasingList casings={casings} onOpen={null} />
      <Bar>
        <button
          type="button"
          class="button primary"
          onClick={() => go()}
          {...testid("receipt-done")}
        >
          {w.receipt_new}
        </button>
      </Bar>
    </div>
  );
}

function Back() {
  return (
    <button type="button" class="button plain back" onClick={() => go()}>
      ‹ {words.value.back}
    </button>
  );
}
