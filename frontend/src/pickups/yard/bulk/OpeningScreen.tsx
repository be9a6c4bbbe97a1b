/**
 * A closed trailer is about to be emptied: the seal is read back and the casings are counted,
 * before anything here says how many it should be. Then they are labelled on the pickup's sheet.
 */
import { useState } from "preact/hooks";
import type { Trailer } from "../../../domain/operation";
import { Bar } from "../../../ui/Bar";
import { Choice } from "../../../ui/Choice";
import { Field } from "../../../ui/Field";
import { usePhone } from "../../context";
import { go } from "../../route";
import { testid } from "../../testids";
import { words } from "../../words";
import type { Sheet } from "../draft";
import { yardName } from "../visits";
import { type Emptying, type EmptyingFault, emptyingFault, NUMBER_MOST, sealOdd } from "./trailer";

export function OpeningScreen(props: { sheet: Sheet<Emptying>; trailer: Trailer; yard: string }) {
  const { sheet, trailer, yard } = props;
  const now = usePhone().now.value;
  const w = words.value;
  const { fields, fill } = sheet;
  const [fault, setFault] = useState<EmptyingFault | null>(null);
  const [seen, setSeen] = useState("");
  const odd = sealOdd(trailer.seal ?? "", fields, w);
  const at = (where: EmptyingFault["at"]) => (fault?.at === where ? fault.said : null);
  const say = (some: Partial<Emptying>) => {
    setFault(null);
    fill(some);
  };

  function open(event: Event) {
    event.preventDefault();
    const wrong = emptyingFault(fields, w);
    setFault(wrong);
    if (wrong !== null) {
      const id = wrong.at === "seal-state" ? "seal" : wrong.at;
      return document.getElementById(id)?.focus();
    }
    // A seal that reads otherwise is read once more, then it is told as it is.
    if (odd !== null && seen !== fields.seal) {
      setSeen(fields.seal);
      return document.getElementById("seal")?.focus();
    }
    fill({ opened: true });
  }

  return (
    <form class="page stack" noValidate onSubmit={open}>
      <button type="button" class="button plain back" onClick={() => go()}>
        ‹ {w.back}
      </button>
      <h1 tabIndex={-1}>{w.empty_title(trailer.number)}</h1>
      <p>
        <b>{yardName(now, yard)}</b>
      </p>
      <Field
        id="seal"
        title={w.empty_seal_read}
        hint={w.empty_seal_read_hint}
        value={fields.seal}
        fault={at("seal")}
        asks={seen !== "" && seen === fields.seal ? odd : null}
        onValue={(seal) => say({ seal })}
        code
        input={{
          ...testid("seal"),
          maxLength: NUMBER_MOST,
          spellcheck: false,
          autocapitalize: "characters",
        }}
      />
      <Choice
        name="seal-state"
        title={w.empty_seal_state}
        values={STATES}
        names={w.empty_seal_states}
        value={fields.state === "" ? null : fields.state}
        onValue={(state) => say({ state })}
      />
      <p role="alert" class={at("seal-state") === null ? "" : "fault"}>
        {at("seal-state") ?? ""}
      </p>
      <p class="caution">{w.empty_caution}</p>
      <Field
        id="own-count"
        title={w.empty_count_own}
        hint={w.empty_count_own_hint}
        value={fields.count}
        fault={at("own-count")}
        onValue={(count) => say({ count })}
        input={{ ...testid("own-count"), inputMode: "numeric", maxLength: 4 }}
      />
      {now.shut !== null ? (
        <p class="notice">{w.shut_save}</p>
      ) : (
        <Bar>
          <button
            type="submit"
            class="button primary"
            disabled={!sheet.ready}
            {...testid("open-trailer")}
          >
            {w.empty_begin}
          </button>
        </Bar>
      )}
    </form>
  );
}

const STATES: ("whole" | "broken" | "missing")[] = ["whole", "broken", "missing"];
