/**
 * One casing: label, TINs, sidewall, treads, what is wanted, note, photo; saved as one operation,
 * network or not. The blocks say what they hold; here is their order, and what saving asks for.
 */
import { Fragment } from "preact";
import { useRef, useState } from "preact/hooks";
import { fault as faultOf, shown, tidy } from "../../domain/labels";
import { Unsaved } from "../Unsaved";
import { leaveHere, type Line, pickUp } from "../../domain/operation";
import { dayOf } from "../../domain/promise";
import type { Casing } from "../../domain/rows";
import { Bar } from "../../ui/Bar";
import { usePhone } from "../context";
import { photosKept } from "../seen/findings";
import { LineChoice } from "../seen/LineChoice";
import { LineFields } from "../seen/LineFields";
import { lineFault } from "../seen/lines";
import { showVerdict } from "../seen/SpecSentence";
import { asksWork, hasTire, lineFor } from "../seen/seen";
import { staysSaid, wantsReason } from "../seen/spec";
import { useCheck } from "../seen/useCheck";
import { testid } from "../testids";
import { aboutYard, offerFor, offerOfThen } from "../wanted/offer";
import { carriedOn, dayFault, type WantedFields, wantedOf, wantedPayload } from "../wanted/wanted";
import { dayInWords, words } from "../words";
import { CasingTwin } from "./CasingTwin";
import { CasingWanted } from "./CasingWanted";
import type { Sheet } from "./draft";
import { askedAbout, type CasingFields, labelFault, originalOf, payloadOf, toldOf } from "./fields";
import { LabelField } from "./LabelField";
import { leftPayload } from "./leaving";
import { NoteField } from "./NoteField";
import { Photos } from "./Photos";
import { RanBlock } from "./RanBlock";
import { carriedRan, odometerFault, onAnotherUnit, type Ran } from "./ran";
import { SeenBlock } from "./SeenBlock";
import { TireBlock } from "./TireBlock";
import { TREADS } from "./TreadKeys";
import { yardName } from "./visits";

export function CasingForm(props: {
  pickup: string;
  yard: string;
  sheet: Sheet<CasingFields>;
  corrects: Casing | null;
  /** It was taken before anybody looked: that it should stay is told and asked about, not asked. */
  taken?: boolean;
  /** The casings before it on this pickup, in their order. */
  before: Casing[];
  onSaved: (label: string) => void;
  /** It stays where it is. */
  onLeft?: () => void;
}) {
  const { pickup, yard, sheet, corrects, before } = props;
  const phone = usePhone();
  const w = words.value;
  const { fields, fill } = sheet;
  const form = useRef<HTMLFormElement>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [failed, setFailed] = useState(false);
  const [busy, setBusy] = useState(false);
  const [developing, setDeveloping] = useState(false);
  const shut = phone.now.value.shut !== null;
  const label = tidy(fields.label);
  // The yellow is on the one next action: to scan, and with a label to save.
  const sound = faultOf(label) === null;
  const other = askedAbout(phone.now.value.pickups, label, corrects);

  const { promises } = phone.now.value;
  const today = dayOf(phone.deps.clock.now());
  const handedOver = corrects === null ? today : dayOf(Date.parse(corrects.picked_up_at));
  const worked = before.findLast((casing) => asksWork(casing.line));
  const wanted = fields.wanted ?? carriedOn(worked, today);
  // What would be told now: what is shown, and what is checked.
  const carried = toldOf(fields, before.at(-1), today);
  const told = { ...carried, line: lineFor(carried.line, wanted.work) };
  const offerNow = offerFor(promises, {
    ...aboutYard(phone.now.value, yard, handedOver, phone.deps.clock.now()),
    ...wanted,
    size: told.size,
    count: wanted.dual_with ? 2 : 1,
  });
  const offer =
    corrects === null
      ? offerNow
      : offerOfThen(
          corrects.promised,
          { ...wantedOf(corrects), size: corrects.size },
          { ...wanted, size: told.size },
          offerNow,
        );
  // Asked in full for the first casing of a pickup; then only where somebody asks for it.
  const [opened, setOpened] = useState<{ sheet: string; open: boolean } | null>(null);
  const asksAll = corrects === null && before.length === 0;
  const open = opened?.sheet === sheet.id ? opened.open : asksAll;
  const want = (some: Partial<WantedFields>) => {
    fill({ wanted: { ...wanted, ...some } });
    const { unit } = { ...wanted, ...some };
    if (unit.trim() !== wanted.unit.trim()) ran(onAnotherUnit(told, before.at(-1)));
  };

  // The first of a pickup carries nothing on yet; what is changed is this casing's own from then on.
  const [ranOpen, setRanOpen] = useState<{ sheet: string; open: boolean } | null>(null);
  const ran = (some: Partial<Ran>) =>
    fill((latest) => ({
      ...(latest.ran_own ? {} : carriedRan(before.at(-1))),
      ...some,
      ran_own: true,
    }));
  // Without a label there is nothing to save: the foot of the screen is free for what is asked.
  const Foot = sound ? Bar : Fragment;

  // Which sheet somebody tried to save: what it lacks is said from then on.
  const [triedOf, setTried] = useState("");
  const tried = triedOf === sheet.id;
  const lacks = tried ? lineFault(told, w) : null;
  const checking = useCheck(told, yard, today, wanted.work);
  // Until it is said why it is taken all the same, saving is not the next thing to do.
  const stays = !props.taken && wantsReason(checking.result, told);
  const at = { pickup, yard, store: corrects?.store ?? null };
  const hashes = sheet.photos.map((photo) => photo.sha256);
  const photos = [...new Set([...fields.photos, ...hashes])];
  const chooseLine = (line: Line) => {
    fill({ line, line_own: true });
    if (line === "retread" || line === "repair") want({ work: line });
  };

  async function save(evenIfTwin: boolean) {
    const wrong = labelFault(fields.label, w);
    setFault(wrong);
    if (wrong !== null || (other !== null && !evenIfTwin)) {
      document.getElementById(wrong !== null ? "label" : "save-anyway")?.focus();
      return;
    }
    setTried(sheet.id);
    const lacking = lineFault(told, w);
    if (lacking !== null) return enter(lacking.at === "treads" ? TREADS : lacking.at);
    if (stays) {
      setTimeout(showVerdict);
      return;
    }
    if (asksWork(told.line) && dayFault(wanted, handedOver, w, dayInWords) !== null) {
      setOpened({ sheet: sheet.id, open: true });
      setTimeout(() => document.getElementById("promised-on")?.focus());
      return;
    }
    if (odometerFault(told.odometer, w) !== null) {
      setRanOpen({ sheet: sheet.id, open: true });
      setTimeout(() => document.getElementById("odometer")?.focus());
      return;
    }
    if (busy || developing || shut || !sheet.ready) return;
    setBusy(true);
    try {
      const original = corrects === null ? null : originalOf(corrects);
      const promise = wantedPayload(wanted, offer);
      const findings = photosKept(told.findings, photos);
      const { checked } = checking;
      const telling = pickUp(
        payloadOf(at, { ...told, findings }, checked, promise, hashes, original),
      );
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

  async function leave() {
    if (busy || developing || shut || !sheet.ready) return;
    setBusy(true);
    try {
      const telling = leaveHere(leftPayload(at, told, checking.checked, photos));
      await sheet.enter(telling, sheet.photos.map(kept), () => {
        setFailed(false);
        props.onLeft?.();
      });
    } catch {
      setFailed(true);
    } finally {
      setBusy(false);
    }
  }

  return (
    <form
      ref={form}
      class="stack"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        void save(false);
      }}
    >
      <LineChoice
        key={`line ${sheet.id}`}
        line={told.line}
        carried={!fields.line_own && before.length > 0}
        onLine={chooseLine}
      />
      <LineFields fields={told} fill={fill} fault={lacks} />
      <LabelField
        value={fields.label}
        fault={fault}
        last={before.at(-1)?.label ?? null}
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
      {hasTire(told.line) && (
        <TireBlock
          key={`tire ${sheet.id}`}
          fields={fields}
          fill={fill}
          position={told.position}
          onPosition={(position) => ran({ position })}
          yard={yard}
          before={before}
          pull={checking.specification?.pull_32nds ?? null}
          stays={staysSaid(checking, told, w)}
          treadsLack={lacks?.at === "treads" ? lacks.said : null}
          onEnd={() => form.current?.requestSubmit()}
        />
      )}
      <RanBlock
        ran={told}
        unit={wanted.unit}
        before={before.at(-1)}
        open={ranOpen?.sheet === sheet.id && ranOpen.open}
        onOpen={(next) => setRanOpen({ sheet: sheet.id, open: next })}
        onRan={ran}
      />
      <SeenBlock
        sheet={sheet}
        told={told}
        checking={checking}
        tried={tried}
        onBusy={setDeveloping}
        onLeave={corrects === null && !shut ? () => void leave() : null}
      />
      {asksWork(told.line) && (
        <CasingWanted
          fields={wanted}
          onFields={want}
          offer={offer}
          size={told.size}
          duals={before}
          tableUntil={promises?.valid_until ?? null}
          yard={yardName(phone.now.value, yard)}
          handedOver={handedOver}
          carried={fields.wanted === null && before.length > 0}
          open={open}
          onOpen={(next) => setOpened({ sheet: sheet.id, open: next })}
        />
      )}
      <NoteField value={fields.note} onValue={(note) => fill({ note })} />
      <Photos sheet={sheet} busy={developing} onBusy={setDeveloping} />
      <Unsaved when={failed} />
      {shut ? (
        <p class="notice">{w.shut_save}</p>
      ) : (
        <Foot>
          <button
            type="submit"
            class={sound && !stays ? "button primary" : "button wide"}
            disabled={busy || developing || !sheet.ready}
            {...testid("save")}
          >
            {corrects !== null ? w.save_correction : sound ? w.save_labelled : w.save}
            {corrects === null && sound && <span class="code"> {shown(label)}</span>}
          </button>
        </Foot>
      )}
    </form>
  );
}

const enter = (id: string) => document.getElementById(id)?.focus();

const kept = ({ sha256, blob }: { sha256: string; blob: Blob }) => ({ sha256, blob });
