/** The end of a drop-off: the promised days and the signature, then the ticket. */
import { useState } from "preact/hooks";
import { finishPickup } from "../../domain/operation";
import { dayOf } from "../../domain/promise";
import { newReceiptKey } from "../../domain/receiptLink";
import type { Pickup } from "../../domain/rows";
import { counted as countedOf } from "../../domain/shown";
import { useBusy } from "../busy";
import { usePhone } from "../context";
import { goFrom, route } from "../route";
import { countsSaid } from "../seen/visitLines";
import { Signing } from "../signing/Signing";
import {
  IN_PERSON,
  otherPhotos,
  type SigningFault,
  type SigningFields,
  signedFor,
  signingFault,
} from "../signing/signing";
import { testid } from "../testids";
import { Unsaved } from "../Unsaved";
import { aboutYard, together } from "../wanted/offer";
import { words } from "../words";
import { countsAsked, customerCount, wheelsOf } from "../yard/counts";
import type { Sheet } from "../yard/draft";
import { DepositField } from "./DepositField";
import { depositIn } from "./deposit";
import { nameToEnd } from "./keys";
import { standingOf } from "./standing";
import { putAway } from "../yard/putAway";
import { storeOf } from "./visits";
import { counterWords } from "./words";

export interface FinishFields extends SigningFields {
  /** How many the customer says there are. */
  count: string;
  /** What they leave as a deposit, as typed. */
  deposit: string;
}

export function Finish(props: {
  pickup: Pickup;
  sheet: Sheet<FinishFields>;
  /** Something of it is half entered. */
  half: boolean;
  /** It is the next action: all of them are booked in. */
  next: boolean;
  onClear: () => void;
}) {
  const { pickup, sheet, half } = props;
  const phone = usePhone();
  const now = phone.now.value;
  const w = counterWords.value;
  const all = words.value;
  const [fault, setFault] = useState<SigningFault | null>(null);
  const [drawing, setDrawing] = useBusy();
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState(false);
  const [asked, setAsked] = useState<string | null>(null);
  const { casings: standing, lines: rest, refused } = standingOf(pickup);
  const lines = standing.map(({ label, promised }) => ({ label, on: promised?.on ?? "" }));
  const clockMs = phone.deps.clock.now();
  const today = dayOf(clockMs);
  const counted = countedOf(rest);
  const none = standing.length + rest.length === 0;
  const told = customerCount(sheet.fields.count);
  const customer = told === "none" ? null : told;
  const own = standing.length - wheelsOf(standing);
  const toAsk = countsAsked(own, told);
  const asking = toAsk !== null && toAsk === asked;

  async function finish() {
    if (told === "none") return document.getElementById("customer-count")?.focus();
    const deposit = depositIn(sheet.fields.deposit);
    if (deposit === "none") return document.getElementById("deposit")?.focus();
    const wrong = signingFault(sheet, lines, all, counted);
    setFault(wrong);
    if (wrong !== null) {
      setTimeout(() => document.getElementById(wrong.at)?.focus());
      return;
    }
    if (half || busy || drawing || now.shut !== null || none) return;
    if (toAsk !== null && !asking) return setAsked(toAsk);
    setBusy(true);
    setFailed(false);
    const here = route.value;
    try {
      const { told: signed, photos } = await signedFor(sheet, lines, phone.camera, counted);
      const others = otherPhotos(sheet);
      const telling = finishPickup({
        pickup: pickup.id,
        yard: pickup.yard,
        store: storeOf(now),
        casings: standing.map(({ id }) => id),
        scrap: rest.flatMap(({ kind, id }) => (kind === "scrap" ? id : [])),
        left: rest.flatMap(({ kind, id }) => (kind === "left" ? id : [])),
        customer_count: customer,
        deposit_cents: deposit?.cents ?? null,
        deposit_note: deposit?.how ?? "",
        receipt_key: newReceiptKey(),
        ...signed,
        photos: others.map(({ sha256 }) => sha256),
      });
      const kept = others.map(({ sha256, blob }) => ({ sha256, blob }));
      await sheet.enter(telling, [...photos, ...kept]);
      await putAway(phone, pickup.id);
      goFrom(here, "ticket", pickup.id);
    } catch {
      setFailed(true);
      setBusy(false);
    }
  }

  const finishSaid = (): string =>
    rest.length === 0
      ? w.finish(standing.length)
      : w.finish_with(standing.length, countsSaid(rest, all));

  return (
    <form
      class="stack finish"
      noValidate
      aria-label={w.finish_title}
      onKeyDownCapture={(event) => nameToEnd(event, "finish-confirm")}
      onSubmit={(event) => {
        event.preventDefault();
        void finish();
      }}
    >
      <Signing
        sheet={sheet}
        lines={lines}
        others={rest}
        together={together(now.promises, standing, aboutYard(now, pickup.yard, today, clockMs))}
        fault={fault}
        onFault={setFault}
        onBusy={setDrawing}
        endings={IN_PERSON}
      >
        <DepositField value={sheet.fields.deposit} onValue={(deposit) => sheet.fill({ deposit })} />
      </Signing>
      {refused > 0 && <p class="fault">{all.finish_needs_you(refused)}</p>}
      {half && (
        <p class="notice">
          <span class="fault" {...testid("finish-half")}>
            {all.finish_half}
          </span>
          <button type="button" class="button" onClick={props.onClear} {...testid("clear-half")}>
            {all.finish_clear}
          </button>
        </p>
      )}
      <p role="alert" class={asking ? "asks" : ""} {...testid("finish-ask")}>
        {asking && customer !== null ? w.finish_counts(own, customer) : ""}
      </p>
      <Unsaved when={failed} />
      {now.shut !== null ? (
        <p class="notice">{all.shut_save}</p>
      ) : (
        <button
          type="submit"
          class={props.next ? "button next" : "button"}
          disabled={busy || drawing || half || !sheet.ready || none}
          id="finish-confirm"
          {...testid("finish-confirm")}
        >
          {asking ? w.finish_so : finishSaid()}
        </button>
      )}
    </form>
  );
}
