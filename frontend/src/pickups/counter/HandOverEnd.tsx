/** Who takes what is on the list signs for it; then each casing and the end are told. */
import { useState } from "preact/hooks";
import { newReceiptKey } from "../../domain/receiptLink";
import type { Casing } from "../../domain/rows";
import { isRejected } from "../../domain/truck";
import { useBusy } from "../busy";
import { usePhone } from "../context";
import { reasonInWords } from "../said";
import { Signing } from "../signing/Signing";
import {
  BLANK_SIGNING,
  IN_PERSON,
  type SigningFault,
  type SigningFields,
  signedFor,
  signingFault,
} from "../signing/signing";
import { testid } from "../testids";
import { Unsaved } from "../Unsaved";
import { words } from "../words";
import type { Sheet } from "../yard/draft";
import { DepositLeft } from "./DepositLeft";
import type { Customer } from "./find";
import { type Chosen, type Line, told } from "./handOver";
import { nameToEnd } from "./keys";
import { ownerOf } from "./rack";
import { storeOf } from "./visits";
import { counterWords } from "./words";

export interface HandOverFields extends SigningFields {
  delivery: string;
  lines: Line[];
}

export const BLANK_HAND_OVER: HandOverFields = { delivery: "", lines: [], ...BLANK_SIGNING };

export function HandOverEnd(props: {
  customer: Customer;
  sheet: Sheet<HandOverFields>;
  chosen: Chosen[];
  /** Theirs that are here, on the list or not: what was left for them as a deposit. */
  theirs: Casing[];
  /** A question is open. */
  asks: boolean;
  /** Asks about what is odd by now; true where a question is open because of it. */
  onAskAgain: () => boolean;
  onDone: (count: number, delivery: string) => void;
}) {
  const { customer, sheet, chosen, asks } = props;
  const phone = usePhone();
  const now = phone.now.value;
  const w = counterWords.value;
  const all = words.value;
  const [fault, setFault] = useState<SigningFault | null>(null);
  const [drawing, setDrawing] = useBusy();
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState(false);
  const signed = chosen.map(({ label, casing, foreign }) => ({
    label,
    on: "",
    said: [
      casing !== null && isRejected(casing)
        ? `${w.rejected_caution} – ${reasonInWords(casing.reason)}`
        : "",
      casing !== null && foreign ? w.foreign_line(ownerOf(casing, now.yards).name) : "",
    ]
      .filter(Boolean)
      .join(". "),
  }));

  async function handOver() {
    if (chosen.length === 0) return document.getElementById("label")?.focus();
    const wrong = signingFault(sheet, signed, all);
    setFault(wrong);
    if (wrong !== null) {
      setTimeout(() => document.getElementById(wrong.at)?.focus());
      return;
    }
    if (busy || drawing || asks || now.shut !== null) return;
    // The plant or the office may have spoken since it came onto the list.
    if (props.onAskAgain()) return;
    setBusy(true);
    setFailed(false);
    try {
      const { told: signing, photos } = await signedFor(sheet, signed, phone.camera);
      const own = chosen.find(({ casing, foreign }) => casing !== null && !foreign)?.casing?.yard;
      const visit = {
        delivery: sheet.fields.delivery,
        end: sheet.id,
        store: storeOf(now),
        yard: own ?? customer.yards[0]!.id,
      };
      // Each has its id already: after a kill in the middle the same are entered, none twice.
      for (const { id, telling } of told(visit, chosen, signing, newReceiptKey()))
        await phone.enter({ id, telling, photos: id === visit.end ? photos : [] });
      await sheet.clear();
      props.onDone(chosen.length, visit.delivery);
    } catch {
      setFailed(true);
    } finally {
      setBusy(false);
    }
  }

  return (
    <form
      class="stack finish"
      noValidate
      aria-label={all.sign_title}
      onKeyDownCapture={(event) => nameToEnd(event, "hand-over-confirm")}
      onSubmit={(event) => {
        event.preventDefault();
        void handOver();
      }}
    >
      <DepositLeft casings={props.theirs} />
      {chosen.length > 0 ? (
        <Signing
          sheet={sheet}
          lines={signed}
          fault={fault}
          onFault={setFault}
          onBusy={setDrawing}
          promises={false}
          endings={IN_PERSON}
        />
      ) : (
        <p class="soft">{w.hand_over_pick}</p>
      )}
      <Unsaved when={failed} />
      {now.shut !== null ? (
        <p class="notice">{all.shut_save}</p>
      ) : (
        chosen.length > 0 && (
          <button
            type="submit"
            class="button primary"
            disabled={busy || drawing || asks || !sheet.ready}
            id="hand-over-confirm"
            {...testid("hand-over-confirm")}
          >
            {w.hand_over_do(chosen.length)}
          </button>
        )
      )}
    </form>
  );
}
