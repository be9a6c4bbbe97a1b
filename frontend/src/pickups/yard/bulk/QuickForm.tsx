/**
 * A casing by label and size alone: at a big pile each is one scan. Size and work are those of the
 * one before; the rest is read where it is received.
 */
import { useRef, useState } from "preact/hooks";
import { fault as faultOf, shown, tidy } from "../../../domain/labels";
import { pickUp } from "../../../domain/operation";
import { dayOf } from "../../../domain/promise";
import type { Casing } from "../../../domain/rows";
import { Bar } from "../../../ui/Bar";
import { usePhone } from "../../context";
import { odd } from "../../labels/labelWords";
import { asksWork } from "../../seen/seen";
import { testid } from "../../testids";
import { Unsaved } from "../../Unsaved";
import { aboutYard, offerFor } from "../../wanted/offer";
import { carriedOn, dayFault, type WantedFields, wantedPayload } from "../../wanted/wanted";
import { dayInWords, words } from "../../words";
import { CasingTwin } from "../CasingTwin";
import { CasingWanted } from "../CasingWanted";
import type { Sheet } from "../draft";
import { askedAbout, type CasingFields, labelFault, payloadOf } from "../fields";
import { LabelField } from "../LabelField";
import { SizeBlock } from "../SizeBlock";
import { sidewallBefore } from "../sizeText";
import { yardName } from "../visits";
import { heardAs, quickFields, sizeIsRefused } from "./quick";

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
  const line = useRef<Promise<void>>(Promise.resolve());
  const shut = now.shut !== null;
  const today = dayOf(phone.deps.clock.now());
  const wanted =
    fields.wanted ??
    carriedOn(
      before.findLast((one) => asksWork(one.line)),
      today,
    );
  const carried = before.findLast(({ size }) => size !== "")?.size ?? "";
  const told = quickFields(fields, before);
  const offer = offerFor(now.promises, {
    ...aboutYard(now, yard, today, phone.deps.clock.now()),
    ...wanted,
    size: told.size,
    count: wanted.dual_with ? 2 : 1,
  });
  const refused = sizeIsRefused(now, yard, told, wanted.work, today);
  const label = tidy(fields.label);
  const sound = faultOf(label) === null;
  const twin = askedAbout(now.pickups, label, null);
  const asksSize = other || carried === "" || fields.size !== "";
  const want = (some: Partial<WantedFields>) => fill({ wanted: { ...wanted, ...some } });

  /** True where it is saved; where it is not, the screen says why. */
  async function save(typed: string, evenIfTwin: boolean): Promise<boolean> {
    const wrong = labelFault(typed, w);
    setFault(wrong);
    if (wrong !== null) return stopAt("label");
    setLacks(told.size === "");
    if (told.size === "") return stopAt("size");
    if (refused) return false;
    const code = tidy(typed);
    if (!evenIfTwin && askedAbout(phone.now.value.pickups, code, null) !== null)
      return stopAt("save-anyway");
    if (dayFault(wanted, today, w, dayInWords) !== null) {
      setWants(true);
      return false;
    }
    if (shut || !sheet.ready) return false;
    setBusy(true);
    try {
      const promise = wantedPayload(wanted, offer);
      const at = { pickup, yard, store: null };
      const payload = payloadOf(at, { ...told, label: code }, null, promise, [], null);
      await sheet.enter(pickUp(payload), [], () => {
        setFailed(false);
        setOther(false);
        // What was typed since is the beginning of the next one.
        const typedNow = turn.current.fields.label;
        if (typedNow !== fields.label && tidy(typedNow) !== code) fill({ label: typedNow });
        props.onSaved(code);
      });
      return true;
    } catch {
      setFailed(true);
      return false;
    } finally {
      setBusy(false);
    }
  }

  /** In the field only where somebody has to look: what is scanned next begins with an empty one. */
  async function take(code: string): Promise<void> {
    const about = odd(code, now, w);
    const as = heardAs(code, { stands: label, size: told.size, odd: about });
    if (as === "another") return setFault(w.label_another(shown(code)));
    setFault(null);
    if (as === "save" && (await save(code, false))) return;
    fill({ label: shown(code) });
    if (as === "look")
      setTimeout(() => document.getElementById(told.size === "" ? "size" : "save")?.focus());
  }

  const turn = useRef({ fields, take, save });
  turn.current = { fields, take, save };

  /** One after the other, however fast they come: each sees the sheet as the one before left it,
   * once that is drawn. */
  function inTurn(work: (now: typeof turn.current) => Promise<unknown>): void {
    line.current = line.current.then(drawn).then(async () => {
      await work(turn.current);
    });
  }

  /** What is on the sheet; a second tap finds another one there. */
  const saveThis = (evenIfTwin: boolean): void =>
    inTurn(async (now) => now.fields.label === fields.label && now.save(fields.label, evenIfTwin));

  return (
    <form
      class="stack"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        saveThis(false);
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
        onValue={(value) => {
          setFault(null);
          fill({ label: value });
        }}
        onFault={setFault}
        onWhole={(code) => inTurn((now) => now.take(code))}
      />
      {twin !== null && (
        <CasingTwin
          other={twin}
          pickup={pickup}
          correcting={false}
          shut={shut}
          disabled={busy}
          onSave={() => saveThis(true)}
        />
      )}
      <CasingWanted
        fields={wanted}
        onFields={want}
        offer={offer}
        size={told.size}
        duals={before}
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
            id="save"
            class="button primary"
            disabled={busy || !sheet.ready || refused}
            {...testid("save")}
          >
            {w.save_labelled} <span class="code"> {shown(label)}</span>
          </button>
        </Bar>
      )}
    </form>
  );
}

/** There it stops: the field or key to go to, once it is drawn. */
function stopAt(id: string): false {
  setTimeout(() => document.getElementById(id)?.focus());
  return false;
}

/** A screen is drawn before anything that is put off. */
const drawn = (): Promise<void> => new Promise((done) => setTimeout(done));
