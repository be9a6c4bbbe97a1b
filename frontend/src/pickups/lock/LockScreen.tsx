/** A locked device: six digits say who it is. What was entered is sent meanwhile. */
import { useState } from "preact/hooks";
import { DIGITS, MOST_WRONG } from "../../domain/pin";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { words } from "../words";
import { PinPad } from "./PinPad";
import { TriesLeft } from "./TriesLeft";
import { useWait } from "./useWait";

export function LockScreen() {
  const phone = usePhone();
  const w = words.value;
  const { enrolment, wrongPins, person, locked } = phone.now.value;
  const [pin, setPin] = useState("");
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState(false);
  const waitMs = useWait();

  async function typed(next: string) {
    setPin(next);
    if (next.length < DIGITS) return;
    setWrong(false);
    setBusy(true);
    const tried = await phone.lock.unlock(next);
    setBusy(false);
    setPin("");
    if ("opened" in tried) {
      // Somebody else begins at Today; who was here goes on where it was.
      if (tried.opened.person !== person) go();
    } else if ("wrong" in tried) setWrong(true);
  }

  const title = (
    <p class="soft">
      {enrolment?.name} · {enrolment?.site_name}
    </p>
  );
  const byCode = (kind: string, said: string) => (
    <button type="button" class={kind} onClick={() => go("enrol")} {...testid("lock-code")}>
      {said}
    </button>
  );
  if (locked === "emptied")
    return (
      <div class="page stack" {...testid("emptied")}>
        {title}
        <h1 tabIndex={-1}>{w.lock_emptied}</h1>
        <p>{wrongPins >= MOST_WRONG ? w.lock_emptied_ten : w.lock_emptied_none}</p>
        {byCode("button primary", w.lock_emptied_do)}
      </div>
    );
  return (
    <div class="page stack" data-wrong={wrongPins} {...testid("lock")}>
      {title}
      <h1 tabIndex={-1}>{w.lock_title}</h1>
      <PinPad
        id="pin"
        title={w.lock_say}
        value={pin}
        busy={busy}
        waitMs={waitMs}
        fault={wrong ? w.lock_wrong : ""}
        onValue={(next) => void typed(next)}
      />
      <TriesLeft />
      <p class="soft">{w.lock_ways}</p>
      {byCode("button", w.lock_code)}
    </div>
  );
}
