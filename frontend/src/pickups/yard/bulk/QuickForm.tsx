/**
 * A casing by label and size alone: at a big pile each is one scan. Size and work are those of the
 * one before; the rest is read where it is received.
 */
import { useState } from "preact/hooks";
import { fault as faultOf, shown, tidy } from "../../../domain/labels";
import { pickUp } from "../../../domain/operation";
import { dayOf } from "../../../domain/promise";
import type { Casing } from "../../../domain/rows";
import { Bar } from "../../../ui/Bar";
import { usePhone } from "../../context";
import { asksWork } from "../../seen/seen";
import { testid } from "../../testids";
import { Unsaved } from "../../Unsaved";
import {
  carriedOn,
  dayFault,
  offerFor,
  type WantedFields,
  wantedPayload,
} from "../../wanted/wanted";
import { dayInWords, words } from "../../words";
import { CasingTwin } from "../CasingTwin";
import { CasingWanted } from "../CasingWanted";
import type { Sheet } from "../draft";
import { askedAbout, type CasingFields, labelFault, payloadOf } from "../fields";
import { LabelField } from "../LabelField";
import { SizeBlock } from "../SizeBlock";
import { sidewallBefore } from "../sizeText";
import { yardName } from "../visits";
import { quickFields, sizeIsRefused } from "./quick";

export function QuickForm(props: {
  pickup: string;
  yard: string;
  sheet: Sheet<CasingFields>;
  /** The casings before it on this pickup, in their order. */
  before: Casing[];
  onSaved: (label: string) => void;
}) {
  const { pickup, yard, sheet, before } = props;
  const phone = usePhone();
  const w = words.value;
  const now = phone.now.value;
  const { fields, fill } = sheet;
  const [fault, setFault] = useState<string | null>(null);
  const [lacks, setLacks] = useState(false);
  const [failed, setFailed] = useState(false);
  const [busy, setBusy] = useState(false);
  const [other, setOther] = useState(false);
  const [wants, setWants] = useState(false);
  const shut = now.shut !== null;
  const today = dayOf(phone.deps.clock.now());
  const wanted =
    fields.wanted ??
    carriedOn(
      before.findLast((one) => asksWork(one.line)),
      today,
    );
  const offer = offerFor(now.promises, wanted, yard, today);
  const carried = before.findLast(({ size }) => size !== "")?.size ?? "";
  const told = quickFields(fields, before);
  const refused = sizeIsRefused(now, yard, told, wanted.work, today);
  const label = tidy(fields.label);
  const sound = faultOf(label) === null;
  const twin = askedAbout(now.pickups, label, null);
  const asksSize = other || carried === "" || fields.size !== "";
  const want = (some: Partial<WantedFields>) => fill({ wanted: { ...wanted, ...some } });

  async function save(typed: string, evenIfTwin: boolean) {
    const wrong = labelFault(typed, w);
    setFault(wrong);
    if (wrong !== null) return document.getElementById("label")?.focus();
    setLacks(told.size === "");
    if (told.size === "") return setTimeout(() => document.getElementById("size")?.focus());
    if (refused) return;
    const code = tidy(typed);
    if (!evenIfTwin && askedAbout(phone.now.value.pickups, code, null) !== null)
      return setTimeout(() => document.getElementById("save-anyway")?.focus());
    if (dayFault(wanted, today, w, dayInWords) !== null) return setWants(true);
    if (busy || shut || !sheet.ready) return;
    setBusy(true);
    try {
      const promise = wantedPayload(wanted, offer.on, offer.table);
      const at = { pickup, yard, store: null };
      const payload = payloadOf(at, { ...told, label: code }, null, promise, [], null);
      await sheet.enter(pickUp(payload), [], () => {
        setFailed(false);
        setOther(false);
        props.onSaved(code);
      });
    } catch {
      setFailed(true);
    } finally {
      setBusy(false);
    }
  }

  /** What a scanner, the camera or the roll gives is whole: it is saved at once. */
  function heard(value: string) {
    setFault(null);
    fill({ label: value });
    const code = tidy(value);
    if (faultOf(code) === null && code !== label && told.size !== "") void save(value, false);
  }

  return (
    <form
      class="stack"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        void save(fields.label, false);
      }}
      {...testid("quick-form")}
    >
      <p class="soft">{w.quick_say}</p>
      {asksSize ? (
        <SizeBlock
          fields={fields}
          fill={fill}
          yard={yard}
          before={sidewallBefore(before)}
          onSameAgain={() => setOther(false)}
          onNext={() => document.getElementById("label")?.focus()}
        />
      ) : (
        <div class="row">
          <b {...testid("quick-size")}>{w.quick_size(carried)}</b>
          <button
            type="button"
            class="button"
            onClick={() => setOther(true)}
            {...testid("quick-size-other")}
          >
            {w.quick_size_other}
          </button>
        </div>
      )}
      <p role="alert" class={lacks || refused ? "fault" : ""} {...testid("quick-said")}>
        {refused ? w.quick_stays : lacks ? w.quick_size_missing : ""}
      </p>
      <LabelField
        value={fields.label}
        fault={fault}
        last={before.at(-1)?.label ?? null}
        onValue={heard}
        onFault={setFault}
      />
      {twin !== null && (
        <CasingTwin
          other={twin}
          pickup={pickup}
          correcting={false}
          shut={shut}
          disabled={busy}
          onSave={() => void save(fields.label, true)}
        />
      )}
      <CasingWanted
        fields={wanted}
        onFields={want}
        offer={offer.on}
        tableUntil={now.promises?.valid_until ?? null}
        yard={yardName(now, yard)}
        handedOver={today}
        carried={fields.wanted === null && before.length > 0}
        open={wants}
        onOpen={setWants}
      />
      <Unsaved when={failed} />
      {shut && <p class="notice">{w.shut_save}</p>}
      {!shut && sound && (
        <Bar>
          <button
            type="submit"
            class="button primary"
            disabled={busy || !sheet.ready || refused}
            {...testid("save")}
          >
            {w.save} <span class="code"> {shown(label)}</span>
          </button>
        </Bar>
      )}
    </form>
  );
}
