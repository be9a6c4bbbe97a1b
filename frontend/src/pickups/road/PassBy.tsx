/** A stop that cannot be made: why, so that the next one is next. */
import { useState } from "preact/hooks";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { goFrom, route } from "../route";
import { testid } from "../testids";
import { words } from "../words";
import { NOTE_MOST } from "../yard/fields";
import { putBehind } from "./road";

export function PassBy({ uid }: { uid: string }) {
  const phone = usePhone();
  const w = words.value;
  const [asked, setAsked] = useState(false);
  const [why, setWhy] = useState("");
  const [missing, setMissing] = useState(false);
  if (!asked)
    return (
      <button
        type="button"
        class="button plain"
        onClick={() => setAsked(true)}
        {...testid("pass-by")}
      >
        {w.road_pass_by}
      </button>
    );
  async function pass() {
    if (why.trim() === "") return setMissing(true);
    const here = route.value;
    await putBehind(phone, { at: uid, what: "passed", why: why.trim() });
    goFrom(here);
  }
  return (
    <section class="notice">
      <h2>{w.road_pass_by}</h2>
      <p>{w.road_pass_say}</p>
      {w.road_pass_reasons.map((reason) => (
        <button
          key={reason}
          type="button"
          class="button"
          aria-pressed={why === reason}
          onClick={() => setWhy(reason)}
        >
          {reason}
        </button>
      ))}
      <Field
        id="pass-why"
        title={w.withdraw_why}
        value={why}
        fault={missing && why.trim() === "" ? w.road_why_missing : null}
        onValue={setWhy}
        input={{ ...testid("pass-why"), maxLength: NOTE_MOST }}
      />
      <button
        type="button"
        class="button wide"
        onClick={() => void pass()}
        {...testid("pass-confirm")}
      >
        {w.road_pass_do}
      </button>
      <button type="button" class="button plain" onClick={() => setAsked(false)}>
        {w.back}
      </button>
    </section>
  );
}
