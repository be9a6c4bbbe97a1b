/** One casing: label, treads, TIN, size, note, photo; saved as one operation, network or not. */
import { useState } from "preact/hooks";
import { fault as faultOf, shown, tidy } from "../../domain/labels";
import { pickUp } from "../../domain/operation";
import type { Casing } from "../../domain/rows";
import { Bar } from "../../ui/Bar";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";
import type { Sheet } from "./draft";
import {
  askedAbout,
  type CasingFields,
  labelFault,
  MOST_GROOVES,
  NOTE_MOST,
  originalOf,
  payloadOf,
  roomLeft,
} from "./fields";
import { LabelField } from "./LabelField";
import { Photos } from "./Photos";
import { TinField } from "./TinField";
import { TreadKeys } from "./TreadKeys";
import { yardName } from "./visits";

export function CasingForm(props: {
  pickup: string;
  yard: string;
  sheet: Sheet<CasingFields>;
  corrects: Casing | null;
  lastSize: string;
  onSaved: (label: string) => void;
}) {
  const { pickup, yard, sheet, corrects, lastSize } = props;
  const phone = usePhone();
  const w = words.value;
  const { fields, fill } = sheet;
  const [fault, setFault] = useState<string | null>(null);
  const [failed, setFailed] = useState(false);
  const [busy, setBusy] = useState(false);
  const [developing, setDeveloping] = useState(false);
  const shut = phone.now.value.shut !== null;
  const label = tidy(fields.label);
  // The yellow is on the one next action: to scan, and with a label to save.
  const sound = faultOf(label) === null;
  const other = askedAbout(phone.now.value.pickups, label, corrects);

  async function save(evenIfTwin: boolean) {
    const wrong = labelFault(fields.label, w);
    setFault(wrong);
    if (wrong !== null || (other !== null && !evenIfTwin)) {
      document.getElementById(wrong !== null ? "label" : "save-anyway")?.focus();
      return;
    }
    if (busy || shut) return;
    setBusy(true);
    try {
      const hashes = sheet.photos.map((photo) => photo.sha256);
      const original = corrects === null ? null : originalOf(corrects);
      const telling = pickUp(payloadOf({ pickup, yard }, fields, hashes, original));
      await phone.enter({ id: sheet.id, telling, photos: sheet.photos.map(kept) });
      await sheet.clear();
      setFailed(false);
      props.onSaved(label);
    } catch {
      setFailed(true);
    } finally {
      setBusy(false);
    }
  }

  return (
    <form
      class="stack"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        void save(false);
      }}
    >
      <p class="caution">
        {w.caution_air} {w.caution_lift}
      </p>
      <LabelField
        value={fields.label}
        fault={fault}
        onValue={(value) => {
          setFault(null);
          fill({ label: value });
        }}
        onFault={setFault}
      />
      {other !== null && (
        <div class="notice" role="alert">
          <p class="fault">
            {w.label_twice(
              other.pickup.id === pickup
                ? w.label_here(other.pickup.casings.indexOf(other.casing) + 1)
                : w.label_elsewhere(yardName(phone.now.value, other.casing.yard)),
            )}
          </p>
          <p>{corrects === null ? w.label_twice_ask : w.label_twice_correct}</p>
          {!shut && (
            <button
              id="save-anyway"
              type="button"
              class="button"
              disabled={busy || developing}
              onClick={() => void save(true)}
              {...testid("save-anyway")}
            >
              {corrects === null ? w.save_twice : w.save_correction_twice}
            </button>
          )}
        </div>
      )}
      <TinField value={fields.tin} onValue={(tin) => fill({ tin })} />
      <Field
        id="size"
        title={w.size}
        value={fields.size}
        onValue={(size) => fill({ size })}
        input={{ ...testid("size"), maxLength: 24, spellcheck: false }}
        after={
          lastSize !== "" &&
          lastSize !== fields.size && (
            <button
              type="button"
              class="button"
              onClick={() => fill({ size: lastSize })}
              {...testid("same-again")}
            >
              {w.same_again(lastSize)}
            </button>
          )
        }
      />
      <TreadKeys
        readings={fields.treads}
        onReading={(depth) =>
          fields.treads.length < MOST_GROOVES && fill({ treads: [...fields.treads, depth] })
        }
        onErase={() => fill({ treads: fields.treads.slice(0, -1) })}
      />
      <Field
        id="note"
        title={w.note}
        rows={2}
        value={fields.note}
        asks={roomLeft(fields.note, w)}
        onValue={(note) => fill({ note })}
        input={{ ...testid("note"), maxLength: NOTE_MOST }}
      />
      <Photos sheet={sheet} busy={developing} onBusy={setDeveloping} />
      {failed && (
        <p class="fault" role="alert">
          {w.save_failed}
        </p>
      )}
      {shut ? (
        <p class="notice">{w.shut_save}</p>
      ) : (
        <Bar>
          <button
            type="submit"
            class={sound ? "button primary" : "button wide"}
            disabled={busy || developing || !sheet.ready}
            {...testid("save")}
          >
            {corrects === null ? w.save : w.save_correction}
            {corrects === null && sound && <span class="code"> {shown(label)}</span>}
          </button>
        </Bar>
      )}
    </form>
  );
}

const kept = ({ sha256, blob }: { sha256: string; blob: Blob }) => ({ sha256, blob });
