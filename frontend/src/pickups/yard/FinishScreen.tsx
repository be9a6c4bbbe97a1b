/**
 * The end of a visit: both counts, then the list that the customer's side reads and signs, and the
 * word that it is finished. Nothing here waits for the network.
 */
import { useEffect, useRef, useState } from "preact/hooks";
import { finishPickup } from "../../domain/operation";
import { dayOf } from "../../domain/promise";
import { newReceiptKey } from "../../domain/receiptLink";
import type { Pickup } from "../../domain/rows";
import { counted as countedOf } from "../../domain/shown";
import { dropDraft } from "../../store/local";
import { Bar } from "../../ui/Bar";
import { Field } from "../../ui/Field";
import { useBusy } from "../busy";
import { usePhone } from "../context";
import { go, goFrom, route } from "../route";
import { Signing } from "../signing/Signing";
import {
  BLANK_SIGNING,
  endingOf,
  signedFor,
  type SigningFault,
  signingFault,
} from "../signing/signing";
import { countsSaid, leavesDanger } from "../seen/visitLines";
import { testid } from "../testids";
import { aboutYard, together } from "../wanted/offer";
import { Unsaved } from "../Unsaved";
import { words } from "../words";
import { PilePhotos } from "./bulk/PilePhotos";
import { BLANK_PILE, type PileFault, pileFault, pilePhotos } from "./bulk/pile";
import { signedLine } from "./CasingList";
import { countsAsked, customerCount, wheelsOf } from "./counts";
import { useSheet } from "./draft";
import { putAway } from "./putAway";
import { finishKey, halfEntered, pickupOf } from "./visits";

/** The last part of a receipt's address where it was finished just now. */
export const JUST_NOW = "now";

export function FinishScreen({ pickup: id }: { pickup: string }) {
  const pickup = pickupOf(usePhone().now.value, id);
  const open = pickup !== null && pickup.finished_at === null && hasLines(pickup);
  // From the press of the key on it is this screen that leads on.
  const finishing = useRef(false);
  useEffect(() => {
    if (!open && !finishing.current) go("pickup", id);
  }, [open, id]);
  return open ? <Finish pickup={pickup} finishing={finishing} /> : null;
}

function Finish({ pickup, finishing }: { pickup: Pickup; finishing: { current: boolean } }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const sheet = useSheet(finishKey(pickup.id), { count: "", ...BLANK_PILE, ...BLANK_SIGNING });
  const [fault, setFault] = useState<string | null>(null);
  const [unsigned, setUnsigned] = useState<SigningFault | null>(null);
  const [pile, setPile] = useState<PileFault | null>(null);
  const [failed, setFailed] = useState(false);
  const [busy, setBusy] = useState(false);
  const [making, setMaking] = useBusy();
  const [asked, setAsked] = useState<string | null>(null);
  const begun = halfEntered(now, pickup);
  const half = begun.length > 0;
  const standing = pickup.casings.filter((casing) => casing.standing !== "needs_you");
  const others = pickup.lines.filter((line) => line.standing !== "needs_you");
  const refused = pickup.casings.length - standing.length + (pickup.lines.length - others.length);
  const today = dayOf(phone.deps.clock.now());
  const lines = standing.map((casing) => signedLine(casing, today));
  const counted = countedOf(others);
  const wheels = wheelsOf(pickup.casings);
  const own = pickup.count - wheels;
  const also = countsSaid(others, w, wheels);
  const typed = sheet.fields.count.trim();
  const told = customerCount(typed);
  const customer = told === "none" ? null : told;
  const shut = now.shut !== null;

  const differs = said(own, customer);
  const toAsk = countsAsked(own, told);
  const asking = toAsk !== null && toAsk === asked;

  async function finish(event: Event) {
    event.preventDefault();
    if (told === "none") {
      document.getElementById("customer-count")?.focus();
      return setFault(w.finish_number(typed.slice(0, 20)));
    }
    const missing = signingFault(sheet, lines, w, counted);
    setUnsigned(missing);
    if (missing !== null) return document.getElementById(missing.at)?.focus();
    const nobody = endingOf(sheet.fields) === "nobody";
    const unseen = nobody ? pileFault(sheet, w) : null;
    setPile(unseen);
    if (unseen !== null) return document.getElementById(unseen.at)?.focus();
    if (half || busy || making || shut) return;
    if (!asking && toAsk !== null) return setAsked(toAsk);
    setBusy(true);
    const here = route.value;
    try {
      const signed = await signedFor(sheet, lines, phone.camera, counted);
      // Whoever comes to sign after all: what was photographed is told all the same.
      const photos = pilePhotos(sheet);
      const telling = finishPickup({
        pickup: pickup.id,
        yard: pickup.yard,
        casings: standing.map((casing) => casing.id),
        scrap: others.flatMap((line) => (line.kind === "scrap" ? line.id : [])),
        left: others.flatMap((line) => (line.kind === "left" ? line.id : [])),
        store: pickup.store,
        customer_count: customer,
        ...signed.told,
        receipt_key: newReceiptKey(),
        note: "",
        photos: photos.map(({ sha256 }) => sha256),
      });
      finishing.current = true;
      const kept = photos.map(({ sha256, blob }) => ({ sha256, blob }));
      await sheet.enter(telling, [...kept, ...signed.photos]);
      await putAway(phone, pickup.id);
      goFrom(here, "pickup", pickup.id, "receipt", JUST_NOW);
    } catch {
      finishing.current = false;
      setFailed(true);
      setBusy(false);
    }
  }

  async function clearBegun() {
    for (const key of begun) await dropDraft(phone.deps.store.local, key);
    await phone.changed();
  }

  return (
    <form class="page stack" noValidate onSubmit={(event) => void finish(event)}>
      <button type="button" class="button plain back" onClick={() => go("pickup", pickup.id)}>
        ‹ {w.back}
      </button>
      <h1 tabIndex={-1}>{w.finish_title}</h1>
      {half && (
        <div class="notice">
          <p class="fault" {...testid("finish-error")}>
            {w.finish_half}
          </p>
          <button type="button" class="button" onClick={() => go("pickup", pickup.id)}>
            {w.back}
          </button>
          <button type="button" class="button" onClick={() => void clearBegun()}>
            {w.finish_clear}
          </button>
        </div>
      )}
      <p>{w.finish_say}</p>
      <p class="count big">
        {w.finish_counted} <b>{own}</b>
        {also !== "" && `, ${also}`}
      </p>
      <Field
        id="customer-count"
        title={w.finish_customer}
        hint={w.finish_customer_hint}
        good={customer === own ? w.finish_agree : null}
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
      <Signing
        sheet={sheet}
        lines={lines}
        others={others}
        together={together(
          now.promises,
          standing,
          aboutYard(now, pickup.yard, today, phone.deps.clock.now()),
        )}
        fault={unsigned}
        onFault={setUnsigned}
        onBusy={setMaking}
        nobodyThere={<PilePhotos sheet={sheet} fault={pile} onFault={setPile} onBusy={setMaking} />}
      >
        <p class="caution">{w.receipt_say}</p>
        {leavesDanger(others) && <p class="caution">{w.receipt_left_stop}</p>}
      </Signing>
      <Unsaved when={failed} />
      {shut ? (
        <p class="notice">{w.shut_save}</p>
      ) : (
        <Bar>
          <p role="alert" class={asking ? "asks" : ""} {...testid("finish-ask")}>
            {asking && customer !== null ? w.finish_ask(own, customer) : ""}
          </p>
          <button
            type="submit"
            class="button primary"
            disabled={
              half || busy || making || !sheet.ready || standing.length + others.length === 0
            }
            {...testid("finish-confirm")}
          >
            {asking ? w.finish_so : w.finish_do} ·{" "}
            {standing.length > 0 ? w.casings(standing.length) : also}
          </button>
        </Bar>
      )}
    </form>
  );
}

const hasLines = ({ casings, lines }: Pickup): boolean => casings.length + lines.length > 0;

function said(counted: number, customer: number | null): string | null {
  const w = words.value;
  if (customer === null || customer === counted) return null;
  return customer > counted
    ? w.finish_more(customer - counted)
    : w.finish_fewer(counted - customer);
}
