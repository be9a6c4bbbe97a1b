/** A PIN for somebody, typed twice. */
import { useState } from "preact/hooks";
import { DIGITS, pinFault } from "../../domain/pin";
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";
import type { Words } from "../words.en";
import { PinPad } from "./PinPad";

/** Why it cannot be this one, in the language that is spoken by then. */
interface Fault {
  said: (w: Words) => string;
}

export function NewPin(props: { person: string; name: string; onDone: (done: boolean) => void }) {
  const phone = usePhone();
  const w = words.value;
  const [first, setFirst] = useState("");
  const [typed, setTyped] = useState("");
  const [busy, setBusy] = useState(false);
  const [fault, setFault] = useState<Fault>({ said: () => "" });

  function anew(said: Fault["said"]) {
    setFirst("");
    setTyped("");
    setFault({ said });
  }

  async function type(next: string) {
    setTyped(next);
    if (next.length > 0) setFault({ said: () => "" });
    if (next.length < DIGITS) return;
    const plain = pinFault(next);
    if (plain !== null)
      return anew((now) => ({ equal: now.pin_equal, running: now.pin_running })[plain](next));
    if (first === "") {
      setFirst(next);
      setTyped("");
      return;
    }
    if (first !== next) return anew((now) => now.pin_differs);
    setBusy(true);
    const done = await phone.lock.set(props.person, next);
    setBusy(false);
    if (done === "set") props.onDone(true);
    else anew((now) => (done === "taken" ? now.pin_taken : now.pin_lost));
  }

  const again = first !== "";
  return (
    <div class="page stack" {...testid("set-pin")}>
      <button type="button" class="button plain back" onClick={() => props.onDone(false)}>
        ‹ {w.back}
      </button>
      <h1 tabIndex={-1}>{w.pin_new(props.name)}</h1>
      <PinPad
        id={again ? "pin-again" : "pin-new"}
        title={again ? w.pin_again : w.pin}
        value={typed}
        busy={busy}
        fault={fault.said(w)}
        onValue={(next) => void type(next)}
      />
      <p class="soft">{w.pin_new_say}</p>
    </div>
  );
}
