/** A new cure load: the plant's own number for it, and its chamber. */
import { useState } from "preact/hooks";
import { testid } from "../../pickups/testids";
import { useSheet } from "../../pickups/yard/draft";
import { Bar } from "../../ui/Bar";
import { Field } from "../../ui/Field";
import type { Floor } from "../floor";
import { floorWords } from "../words";
import { OwnCaution } from "./OwnCaution";
import { tellLoad } from "./telling";

const BLANK = { number: "", chamber: "" };

export function LoadHead({ floor, id }: { floor: Floor; id: string }) {
  const w = floorWords.value;
  const sheet = useSheet<typeof BLANK>(`floor:load:${id}`, BLANK);
  const [fault, setFault] = useState<{ number?: string; chamber?: string }>({});
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState(false);
  const { number, chamber } = sheet.fields;
  const chambers = floor.route?.chambers ?? [];

  async function begin(event: Event) {
    event.preventDefault();
    const named = number.trim();
    const taken = floor.loads.some((load) => load.uid !== id && load.number === named);
    const said = {
      ...(named === ""
        ? { number: w.load_number_missing }
        : taken
          ? { number: w.load_number_taken(named) }
          : named.includes("/")
            ? { number: w.load_number_fault(named) }
            : {}),
      ...(chamber.trim() === "" ? { chamber: w.chamber_missing } : {}),
    };
    setFault(said);
    if (busy || Object.keys(said).length > 0) return;
    setBusy(true);
    setFailed(false);
    try {
      await tellLoad(floor, {
        load: id,
        number: named,
        chamber: chamber.trim(),
        started_at: null,
        ended_at: null,
      });
      void sheet.clear();
    } catch {
      setFailed(true);
    } finally {
      setBusy(false);
    }
  }

  if (!sheet.ready) return null;
  return (
    <form class="stack" noValidate onSubmit={(event) => void begin(event)}>
      <h1 tabIndex={-1}>{w.load_new}</h1>
      <OwnCaution floor={floor} said={w.caution_chamber} />
      <Field
        id="load-number"
        title={w.load_number}
        hint={w.load_number_hint}
        fault={fault.number ?? null}
        value={number}
        onValue={(value) => void sheet.fill({ number: value })}
        input={{ ...testid("load-number"), maxLength: 40, "data-first": "" }}
      />
      {chambers.length > 0 ? (
        <fieldset class="choice">
          <legend>{w.chamber}</legend>
          <div class="keys">
            {chambers.map((one) => (
              <button
                key={one.code}
                type="button"
                class="button"
                aria-pressed={chamber === one.code}
                onClick={() => void sheet.fill({ chamber: one.code })}
                {...testid(`chamber-${one.code}`)}
              >
                {one.holds === null ? one.name : w.chamber_holds(one.name, one.holds)}
              </button>
            ))}
          </div>
          {fault.chamber !== undefined && <p class="fault">{fault.chamber}</p>}
        </fieldset>
      ) : (
        <Field
          id="chamber"
          title={w.chamber}
          fault={fault.chamber ?? null}
          value={chamber}
          onValue={(value) => void sheet.fill({ chamber: value })}
          input={{ ...testid("chamber"), maxLength: 40 }}
        />
      )}
      <Bar>
        <p role="alert" class={failed ? "fault" : ""}>
          {failed && w.not_kept}
        </p>
        <button type="submit" class="button primary" disabled={busy} {...testid("load-begin")}>
          {w.load_begin}
        </button>
      </Bar>
    </form>
  );
}
