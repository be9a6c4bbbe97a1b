/**
 * Whoever changes a PIN types the one of now first: a phone that was laid down unlocked is not
 * taken over by another hand. Wrong ones count as on a locked device.
 */
import { useRef, useState } from "preact/hooks";
import { DIGITS } from "../../domain/pin";
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";
import { PinPad } from "./PinPad";
import { TriesLeft } from "./TriesLeft";
import { useWait } from "./useWait";

export function OldPin(props: { onDone: (theirs: boolean) => void }) {
  const phone = usePhone();
  const w = words.value;
  const [pin, setPin] = useState("");
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState(false);
  const waitMs = useWait();
  /** Whoever has gone back is asked for nothing more: a late answer opens no other screen. */
  const left = useRef(false);

  async function typed(next: string) {
    setPin(next);
    if (next.length < DIGITS) return;
    setWrong(false);
    setBusy(true);
    try {
      const theirs = await phone.lock.isTheirs(next);
      if (left.current) return;
      if (theirs) props.onDone(true);
      else setWrong(true);
    } finally {
      setBusy(false);
      setPin("");
    }
  }

  function back() {
    left.current = true;
    props.onDone(false);
  }

  return (
    <div class="page stack" {...testid("old-pin")}>
      <button type="button" class="button plain back" onClick={back}>
        ‹ {w.back}
      </button>
      <h1 tabIndex={-1}>{w.who_change_pin}</h1>
      <PinPad
        id="pin-old"
        title={w.pin_old}
        value={pin}
        busy={busy}
        waitMs={waitMs}
        fault={wrong ? w.pin_not_yours : ""}
        onValue={(next) => void typed(next)}
      />
      <TriesLeft />
      <p class="soft">{w.pin_old_forgotten}</p>
    </div>
  );
}
