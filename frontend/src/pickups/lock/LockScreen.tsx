/** A locked device: six digits say who it is. What was entered is sent meanwhile. */
import { useEffect, useState } from "preact/hooks";
import { DIGITS, MOST_WRONG, triesLeft } from "../../domain/pin";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { words } from "../words";
import { PinPad } from "./PinPad";

export function LockScreen() {
  const phone = usePhone();
  const w = words.value;
  const { enrolment, wrongPins, person, locked } = phone.now.value;
  const [pin, setPin] = useState("");
  const [busy, setBusy] = useState(false);
  const [fault, setFault] = useState("");
  const [waitMs, setWaitMs] = useState(0);

  // What is left to wait is read from the disk: a page loaded anew waits as long.
  useEffect(() => {
    let over = () => {};
    const look = async () => {
      const left = await phone.lock.waitMs();
      setWaitMs(left);
      if (left > 0) over = phone.deps.clock.after(Math.min(left, 1000), () => void look());
    };
    void look();
    return () => over();
  }, [wrongPins]);

  async function typed(next: string) {
    setPin(next);
    if (next.length < DIGITS) return;
    setFault("");
    setBusy(true);
    const tried = await phone.lock.unlock(next);
    setBusy(false);
    setPin("");
    if ("opened" in tried) {
      // Somebody else begins at Today; who was here goes on where it was.
      if (tried.opened.person !== person) go();
    } else if ("wrong" in tried) setFault(w.lock_wrong);
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
  const left = triesLeft(wrongPins);
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
        fault={fault}
        onValue={(next) => void typed(next)}
      />
      {left !== null && (
        <p class="caution" role="alert" {...testid("pin-left")}>
          {w.lock_left(left)}
        </p>
      )}
      <p class="soft">{w.lock_ways}</p>
      {byCode("button", w.lock_code)}
    </div>
  );
}
