/**
 * One casing: label, TIN, size, treads, what is wanted, note, photo; saved as one operation,
 * network or not.
 */
import { useState } from "preact/hooks";
import { fault as faultOf, shown, tidy } from "../../domain/labels";
import { pickUp, type Tin } from "../../domain/operation";
import { dayOf } from "../../domain/promise";
import type { Casing } from "../../domain/rows";
import { Bar } from "../../ui/Bar";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { testid } from "../testids";
import {
  carriedOn,
  dayFault,
  offerFor,
  offerOfThen,
  type WantedFields,
  wantedPayload,
} from "../wanted/wanted";
import { dayInWords, words } from "../words";
import { CasingTwin } from "./CasingTwin";
import { CasingWanted } from "./CasingWanted";
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
  /** The casings before it on this pickup, in their order. */
  before: Casing[];
  onSaved: (label: string) => void;
}) {
  const { pickup, yard, sheet, corrects, before } = props;
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
  const lastSize = before.findLast((casing) => casing.size !== "")?.size ?? "";

  const { promises } = phone.now.value;
  const today = dayOf(phone.deps.clock.now());
  const handedOver = corrects === null ? today : dayOf(Date.parse(corrects.picked_up_at));
  const wanted = fields.wanted ?? carriedOn(before.at(-1), today);
  const offerNow = offerFor(promises, wanted, yard, handedOver);
  const offer = corrects === null ? offerNow : offerOfThen(corrects, wanted, offerNow);
  // Asked in full for the first casing of a pickup; then only where somebody asks for it.
  const [opened, setOpened] = useState<{ sheet: string; open: boolean } | null>(null);
  const asksAll = corrects === null && before.length === 0;
  const open = opened?.sheet === sheet.id ? opened.open : asksAll;
  const want = (some: Partial<WantedFields>) => fill({ wanted: { ...wanted, ...some } });

  async function save(evenIfTwin: boolean) {
    const wrong = labelFault(fields.label, w);
    setFault(wrong);
    if (wrong !== null || (other !== null && !evenIfTwin)) {
      document.getElementById(wrong !== null ? "label" : "save-anyway")?.focus();
      return;
    }
    if (dayFault(wanted, handedOver, w, dayInWords) !== null) {
      setOpened({ sheet: sheet.id, open: true });
      setTimeout(() => document.getElementById("promised-on")?.focus());
      return;
    }
    if (busy || shut) return;
    setBusy(true);
    try {
      const hashes = sheet.photos.map((photo) => photo.sha256);
      const original = corrects === null ? null : originalOf(corrects);
      const at = { pickup, yard, store: corrects?.store ?? null };
      const told = wantedPayload(wanted, offer.on, offer.table);
      const telling = pickUp(payloadOf(at, fields, null, told, hashes, original));
      await sheet.enter(telling, sheet.photos.map(kept), () => {
        setFailed(false);
        props.onSaved(label);
      });
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
        <CasingTwin
          other={other}
          pickup={pickup}
          correcting={corrects !== null}
          shut={shut}
          disabled={busy || developing}
          onSave={() => void save(true)}
        />
      )}
      <TinField
        value={fields.tins[0]?.tin ?? ""}
        onValue={(tin) => fill((latest) => ({ tins: withFirst(latest.tins, tin) }))}
      />
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
        readings={fields.treads[0]?.filter((depth) => depth !== null) ?? []}
        onReading={(depth) =>
          // Two taps may come before the first is drawn.
          fill((latest) =>
            (latest.treads[0] ?? []).length < MOST_GROOVES
              ? { treads: [[...(latest.treads[0] ?? []), depth]] }
              : {},
          )
        }
        onErase={() => fill((latest) => ({ treads: [(latest.treads[0] ?? []).slice(0, -1)] }))}
      />
      <CasingWanted
        fields={wanted}
        onFields={want}
        offer={offer.on}
        tableUntil={promises?.valid_until ?? null}
        yard={yardName(phone.now.value, yard)}
        handedOver={handedOver}
        carried={fields.wanted === null && before.length > 0}
        open={open}
        onOpen={(next) => setOpened({ sheet: sheet.id, open: next })}
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

const withFirst = (tins: Tin[], tin: string): Tin[] => [
  { made: tins[0]?.made ?? "", tin },
  ...tins.slice(1),
];

const kept = ({ sha256, blob }: { sha256: string; blob: Blob }) => ({ sha256, blob });
