/** The end of a visit: both counts side by side, the list, and the word that it is finished. */
import { useEffect, useState } from "preact/hooks";
import { finishPickup } from "../../domain/operation";
import type { Pickup } from "../../domain/rows";
import { dropDraft, set } from "../../store/local";
import { Bar } from "../../ui/Bar";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { words } from "../words";
import { CasingList } from "./CasingList";
import { countsAsked, customerCount } from "./counts";
import { useSheet } from "./draft";
import { finishKey, pickupOf, sheetKey } from "./visits";

export function FinishScreen({ pickup: id }: { pickup: string }) {
  const pickup = pickupOf(usePhone().now.value, id);
  const open = pickup !== null && pickup.finished_at === null && pickup.casings.length > 0;
  useEffect(() => {
    if (!open) go("pickup", id);
  }, [open, id]);
  return open ? <Finish pickup={pickup} /> : null;
}

function Finish({ pickup }: { pickup: Pickup }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const sheet = useSheet(finishKey(pickup.id), { count: "" });
  const [fault, setFault] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const [asked, setAsked] = useState<string | null>(null);
  const half = now.drafts.some((draft) => draft.key === sheetKey(pickup.id));
  const standing = pickup.casings.filter((casing) => casing.standing !== "needs_you");
  const refused = pickup.casings.length - standing.length;
  const typed = sheet.fields.count.trim();
  const told = customerCount(typed);
  const customer = told === "none" ? null : told;
  const shut = now.shut !== null;

  const differs = said(pickup.count, customer);
  const toAsk = countsAsked(pickup.count, told);
  const asking = toAsk !== null && toAsk === asked;

  async function finish(event: Event) {
    event.preventDefault();
    if (told === "none") {
      document.getElementById("customer-count")?.focus();
      return setFault(w.finish_number(typed.slice(0, 20)));
    }
    if (half || busy || shut) return;
    if (!asking && toAsk !== null) return setAsked(toAsk);
    setBusy(true);
    try {
      const telling = finishPickup({
        pickup: pickup.id,
        yard: pickup.yard,
        casings: standing.map((casing) => casing.id),
        customer_count: customer,
        note: "",
        photos: [],
      });
      await phone.enter({ id: sheet.id, telling });
      await sheet.clear();
      const others = now.visits.filter((visit) => visit.pickup !== pickup.id);
      await set(phone.deps.store.local, "visits", others);
      await phone.changed();
      go("pickup", pickup.id, "receipt");
    } catch {
      setFault(w.save_failed);
      setBusy(false);
    }
  }

  return (
    <form class="page stack" noValidate onSubmit={(event) => void finish(event)}>
      <button type="button" class="button plain back" onClick={() => go("pickup", pickup.id)}>
        ‹ {w.back}
      </button>
      <h1 tabIndex={-1}>{w.finish_title}</h1>
      <p>{w.finish_say}</p>
      <p class="count big">
        {w.finish_counted} <b>{pickup.count}</b>
      </p>
      <Field
        id="customer-count"
        title={w.finish_customer}
        hint={w.finish_customer_hint}
        good={customer === pickup.count ? w.finish_agree : null}
        value={sheet.fields.count}
        fault={fault}
        onValue={(count) => {
          setFault(null);
          sheet.fill({ count });
        }}
        input={{ ...testid("customer-count"), inputMode: "numeric" }}
      />
      <p role="status" class={differs === null ? "" : "asks"}>
        {differs}
      </p>
      {refused > 0 && <p class="fault">{w.finish_needs_you(refused)}</p>}
      {half && (
        <div class="notice">
          <p class="fault" {...testid("finish-error")}>
            {w.finish_half}
          </p>
          <button type="button" class="button" onClick={() => go("pickup", pickup.id)}>
            {w.back}
          </button>
          <button
            type="button"
            class="button"
            onClick={() =>
              void dropDraft(phone.deps.store.local, sheetKey(pickup.id)).then(phone.changed)
            }
          >
            {w.finish_clear}
          </button>
        </div>
      )}
      <CasingList casings={pickup.casings} onOpen={null} />
      {shut ? (
        <p class="notice">{w.shut_save}</p>
      ) : (
        <Bar>
          <p role="alert" class={asking ? "asks" : ""} {...testid("finish-ask")}>
            {asking && customer !== null ? w.finish_ask(pickup.count, customer) : ""}
          </p>
          <button
            type="submit"
            class="button primary"
            disabled={half || busy || !sheet.ready || standing.length === 0}
            {...testid("finish-confirm")}
          >
            {asking ? w.finish_so : w.finish_do} · {w.casings(standing.length)}
          </button>
        </Bar>
      )}
    </form>
  );
}

function said(counted: number, customer: number | null): string | null {
  const w = words.value;
  if (customer === null || customer === counted) return null;
  return customer > counted
    ? w.finish_more(customer - counted)
    : w.finish_fewer(counted - customer);
}
