/** A PIN for somebody, typed twice. */
import { useState } from "preact/hooks";
import { DIGITS, pinFault } from "../../domain/pin";
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";
import { PinPad } from "./PinPad";

export function NewPin(props: { person: string; name: string; onDone: (done: boolean) => void }) {
  const phone = usePhone();
  const w = words.value;
  const [first, setFirst] = useState("");
  const [typed, setTyped] = useState("");
  const [busy, setBusy] = useState(false);
  const [fault, setFault] = useState("");

  function anew(why: string) {
    setFirst("");
    setTyped("");
    setFault(why);
  }

  async function type(next: string) {
    setTyped(next);
    if (next.length > 0) setFault("");
    if (next.length < DIGITS) return;
    const plain = pinFault(next);
    if (plain !== null) return anew({ equal: w.pin_equal, running: w.pin_running }[plain](next));
    if (first === "") {
      setFirst(next);
      setTyped("");
      return;
    }
    if (first !== next) return anew(w.pin_differs);
    setBusy(true);
    const done = await phone.lock.set(props.person, next);
    setBusy(false);
    if (done === "set") props.onDone(true);
    else anew(done === "taken" ? w.pin_taken : w.pin_lost);
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
        fault={fault}
        onValue={(next) => void type(next)}
      />
      <p class="soft">{w.pin_new_say}</p>
    </div>
  );
}
