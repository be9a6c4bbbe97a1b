/** A casing that was entered wrong: told again in its place, or taken off with a reason. */
import { useEffect, useRef, useState } from "preact/hooks";
import { withdraw } from "../../domain/operation";
import type { Casing } from "../../domain/rows";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { go, goFrom, route } from "../route";
import { testid } from "../testids";
import { words } from "../words";
import { CasingForm } from "./CasingForm";
import { useSheet } from "./draft";
import { fieldsOf, NOTE_MOST, originalOf, roomLeft } from "./fields";
import { correctKey, isOpen, pickupOf } from "./visits";

export function CorrectScreen({ pickup, casing: id }: { pickup: string; casing: string }) {
  const visit = pickupOf(usePhone().now.value, pickup);
  const casing = visit?.casings.find((one) => one.id === id) ?? null;
  const open = casing !== null && visit !== null && isOpen(visit);
  useEffect(() => {
    if (!open) go("pickup", pickup);
  }, [open, pickup]);
  return open ? <Correct pickup={pickup} casing={casing} /> : null;
}

function Correct({ pickup, casing }: { pickup: string; casing: Casing }) {
  const w = words.value;
  const began = useRef(casing).current; // what it was when this screen was opened
  const sheet = useSheet(correctKey(casing.id), fieldsOf(began));
  return (
    <div class="page stack">
      <button
        type="button"
        class="button plain back"
        onClick={() => void sheet.clear().then(() => go("pickup", pickup))}
      >
        ‹ {w.back}
      </button>
      <h1 tabIndex={-1}>{w.correct_casing}</h1>
      <CasingForm
        pickup={pickup}
        yard={casing.yard}
        sheet={sheet}
        corrects={casing}
        before={[]}
        onSaved={() => go("pickup", pickup)}
      />
      <button
        type="button"
        class="button"
        onClick={() => go("relabel", casing.id)}
        {...testid("relabel-open")}
      >
        {w.relabel}
      </button>
      <TakeOff casing={casing} pickup={pickup} drop={sheet.clear} />
    </div>
  );
}

function TakeOff(props: { casing: Casing; pickup: string; drop: () => Promise<void> }) {
  const { casing, pickup } = props;
  const phone = usePhone();
  const w = words.value;
  const [id] = useState(() => phone.deps.ids.next());
  const [asking, setAsking] = useState(false);
  const [reason, setReason] = useState("");
  const [fault, setFault] = useState<string | null>(null);

  function say(why: string) {
    setFault(null);
    setReason(why);
  }

  async function takeOff() {
    if (reason.trim() === "") return setFault(w.withdraw_reason_missing);
    const here = route.value;
    try {
      const withdraws = originalOf(casing);
      await phone.enter({ id, telling: withdraw({ pickup, withdraws, reason: reason.trim() }) });
      await props.drop();
      goFrom(here, "pickup", pickup);
    } catch {
      setFault(w.save_failed);
    }
  }

  if (phone.now.value.shut !== null) return null;
  if (!asking) {
    return (
      <button type="button" class="button" onClick={() => setAsking(true)} {...testid("withdraw")}>
        {w.withdraw}
      </button>
    );
  }
  return (
    <section class="notice">
      <h2>{w.withdraw}</h2>
      {w.withdraw_reasons.map((given) => (
        <button key={given} type="button" class="button" onClick={() => say(given)}>
          {given}
        </button>
      ))}
      <Field
        id="withdraw-reason"
        title={w.withdraw_why}
        value={reason}
        fault={fault}
        asks={roomLeft(reason, w)}
        onValue={say}
        input={{ ...testid("withdraw-reason"), maxLength: NOTE_MOST }}
      />
      <button
        type="button"
        class="button"
        onClick={() => void takeOff()}
        {...testid("withdraw-confirm")}
      >
        {w.withdraw_do}
      </button>
    </section>
  );
}
