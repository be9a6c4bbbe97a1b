/** The last five scans of this station stay in sight; each can be taken back, with why. */
import { useState } from "preact/hooks";
import { shown } from "../domain/labels";
import { type Tell, tell } from "../domain/plantTelling";
import { testid } from "../pickups/testids";
import { when } from "../pickups/words";
import { Field } from "../ui/Field";
import type { Floor } from "./floor";
import { type LastScan, lastScans } from "./shift";
import { Sign } from "./Sign";
import { floorWords } from "./words";

export function LastScans({ floor }: { floor: Floor }) {
  const w = floorWords.value;
  const [open, setOpen] = useState("");
  const scans = lastScans(floor.told, floor.station);
  return (
    <section>
      <h2>{w.last_title}</h2>
      {scans.length === 0 && <p class="soft">{w.last_none}</p>}
      <ul class="lines last-scans" {...testid("last-scans")}>
        {scans.map((scan) => (
          <Line
            key={scan.event.id}
            floor={floor}
            scan={scan}
            open={open === scan.event.id}
            onOpen={(opens) => setOpen(opens ? scan.event.id : "")}
          />
        ))}
      </ul>
    </section>
  );
}

function Line(props: {
  floor: Floor;
  scan: LastScan;
  open: boolean;
  onOpen: (open: boolean) => void;
}) {
  const w = floorWords.value;
  const { event, back, standing } = props.scan;
  const { label, outcome } = event.tell;
  return (
    <li
      class={back ? "is-back" : ""}
      data-standing={standing}
      data-back={back}
      {...testid(`last-${label}`)}
    >
      <div class="row">
        <span class="what">
          <span class="code">{shown(label)}</span>
          <span>
            <Sign of={back ? "withdrawn" : outcome} /> {back ? w.taken_back : w.outcomes[outcome]}
            <span class="soft"> {when(event.at)}</span>
          </span>
          {!back && standing !== "recorded" && <span class="soft">{w.standings[standing]}</span>}
        </span>
        {!back && !props.open && (
          <button
            type="button"
            class="button"
            aria-label={w.take_back_of(shown(label))}
            onClick={() => props.onOpen(true)}
            {...testid(`back-${label}`)}
          >
            {w.take_back}
          </button>
        )}
      </div>
      {props.open && !back && <Why {...props} />}
    </li>
  );
}

/** Why: common ones as keys, any other typed. */
function Why({ floor, scan, onOpen }: Parameters<typeof Line>[0]) {
  const w = floorWords.value;
  const [typed, setTyped] = useState("");
  const [busy, setBusy] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const { event } = scan;

  async function back(note: string) {
    if (busy) return;
    if (note.trim() === "") return setFault(w.take_back_missing);
    setBusy(true);
    const { label, station } = event.tell;
    const payload: Tell = { label, station, outcome: "withdrawn", withdraws: event.id, note };
    try {
      await floor.phone.enter({ id: floor.phone.deps.ids.next(), telling: tell(payload) });
      onOpen(false);
    } catch {
      setFault(w.not_kept);
      setBusy(false);
    }
  }
  return (
    <fieldset class="why stack">
      <legend>{w.take_back_why(shown(event.tell.label))}</legend>
      <div class="keys">
        {w.take_back_reasons.map((reason, i) => (
          <button
            key={reason}
            type="button"
            class="button"
            disabled={busy}
            onClick={() => void back(reason)}
            {...testid(`back-why-${i + 1}`)}
          >
            {reason}
          </button>
        ))}
      </div>
      <Field
        id="back-why"
        title={w.take_back_other}
        fault={fault}
        value={typed}
        onValue={(value) => {
          setFault(null);
          setTyped(value);
        }}
        beside={
          <button
            type="button"
            class="button"
            disabled={busy}
            onClick={() => void back(typed.trim())}
            {...testid("back-now")}
          >
            {w.take_back}
          </button>
        }
        input={{ ...testid("back-why"), maxLength: 500 }}
      />
      <button type="button" class="button" onClick={() => onOpen(false)} {...testid("back-not")}>
        {w.leave_it}
      </button>
    </fieldset>
  );
}
