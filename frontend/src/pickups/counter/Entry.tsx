/**
 * One casing after the other, without a mouse, in the order of the talk. Enter leads on to what is
 * not known yet and from the treads saves and begins the next; a scanned label counts wherever the
 * cursor stands. What is rarely told is folded, and its key opens it.
 */
import { useState } from "preact/hooks";
import { fault as faultOf, shown, tidy } from "../../domain/labels";
import { Unsaved } from "../Unsaved";
import { type Line, leaveHere, pickUp } from "../../domain/operation";
import { dayOf } from "../../domain/promise";
import type { Casing } from "../../domain/rows";
import { usePhone } from "../context";
import { ConditionFieldset } from "../seen/ConditionFieldset";
import { photosKept } from "../seen/findings";
import { LineFields } from "../seen/LineFields";
import type { LineFault } from "../seen/lines";
import { SpecSentence } from "../seen/SpecSentence";
import { type FillSeen, hasTire, lineFor } from "../seen/seen";
import { wantsReason } from "../seen/spec";
import { useCheck } from "../seen/useCheck";
import { testid } from "../testids";
import { aboutYard, offerFor } from "../wanted/offer";
import { type WantedFields, wantedPayload, wantedSaid } from "../wanted/wanted";
import { useWedge } from "../wedge";
import { dayInWords, words } from "../words";
import { CasingTwin } from "../yard/CasingTwin";
import type { Sheet } from "../yard/draft";
import { BLANK, twin } from "../yard/fields";
import { leftPayload } from "../yard/leaving";
import { NoteField } from "../yard/NoteField";
import { Photos } from "../yard/Photos";
import { ranSaid } from "../yard/ran";
import { DenseWanted } from "./DenseWanted";
import { type EntryFields, entered, isPromised, seenFor, wantedFor } from "./entry";
import { faultsIn, leftBy, PART_OF, type Part } from "./faults";
import { Fold } from "./Fold";
import { useKeepPhoto } from "./keepPhoto";
import { Kinds } from "./Kinds";
import { LabelLine } from "./LabelLine";
import { leadsTo } from "./lead";
import { print } from "./printing";
import { SeenCode } from "./SeenCode";
import { Sidewall } from "./Sidewall";
import { isOurs, nextLabel, noConnection, owePrint, printing } from "./stock";
import { useTelling } from "./useTelling";
import { scannedLabel, storeOf } from "./visits";
import { WhereItRan } from "./WhereItRan";
import { counterWords } from "./words";

const focus = (id: string) => document.getElementById(id)?.focus();
export function Entry(props: {
  pickup: string;
  yard: string;
  sheet: Sheet<EntryFields>;
  /** The casings before it on this drop-off, in their order. */
  before: Casing[];
  /** As many are booked in as the customer says there are. */
  all: boolean;
  onSaved: () => void;
}) {
  const { pickup, yard, sheet, before } = props;
  const phone = usePhone();
  const now = phone.now.value;
  const w = counterWords.value;
  const all = words.value;
  const { fields, fill } = sheet;
  const [faults, setFaults] = useState<Record<string, string | null>>({});
  const [lacking, setLacking] = useState<LineFault | null>(null);
  const [reasonAsked, setReasonAsked] = useState(false);
  const [opened, setOpened] = useState<{ sheet: string } & Partial<Record<Part, boolean>>>();
  const [developing, setDeveloping] = useState(false);
  const keepPhoto = useKeepPhoto(sheet, setDeveloping);
  const { busy, failed, tell } = useTelling(sheet, !developing);

  const offline = noConnection(phone);
  const next = offline ? "" : nextLabel(now);
  const typed = fields.label !== "" ? fields.label : scannedLabel.value || next;
  const label = tidy(typed);
  const sound = faultOf(label) === null;
  const other = sound ? twin(now.pickups, label, null) : null;

  const last = before.at(-1);
  const today = dayOf(phone.deps.clock.now());
  const wanted = wantedFor(fields, last, today);
  const filled = seenFor(fields, last, today);
  const seen = { ...filled, line: lineFor(filled.line, wanted.work) };
  const offer = offerFor(now.promises, {
    ...aboutYard(now, yard, today, phone.deps.clock.now()),
    ...wanted,
    size: seen.size,
    count: wanted.dual_with ? 2 : 1,
  });
  const checking = useCheck(seen, yard, today, wanted.work);
  const isOpen = (part: Part, otherwise: boolean): boolean =>
    (opened?.sheet === sheet.id ? opened[part] : undefined) ?? otherwise;
  const open = (part: Part) => (to: boolean) =>
    setOpened((was) => ({ ...(was?.sheet === sheet.id ? was : {}), sheet: sheet.id, [part]: to }));

  useWedge(
    "label",
    ({ text, code, elsewhere }) => {
      if (code !== null) takeLabel(code);
      else if (!elsewhere) setFaults({ ...faults, label: all.scan_not_ours(text.slice(0, 40)) });
    },
    "typist",
  );

  function takeLabel(code: string) {
    setFaults({ ...faults, label: null });
    fill({ label: shown(code) });
    focus("tin");
  }

  function put(some: Partial<EntryFields>, field: string) {
    setFaults({ ...faults, [field]: null });
    fill(some);
  }

  const see: FillSeen = (some) => {
    setLacking(null);
    fill((latest) => {
      const told = typeof some === "function" ? some(seenFor(latest, last, today)) : some;
      return { seen: { ...latest.seen, ...told } };
    });
  };

  const want = (some: Partial<WantedFields>) =>
    fill((latest) => ({ wanted: { ...wantedFor(latest, last, today), ...some } }));

  function choose(line: Line) {
    see({ line });
    if (line === "retread" || line === "repair") want({ work: line });
  }

  /** Half a casing is not saved by the Enter after its first field. */
  function leadOn(event: KeyboardEvent) {
    if (event.key !== "Enter" || event.defaultPrevented) return;
    const at = event.target as HTMLElement;
    if (!(at instanceof HTMLInputElement || at instanceof HTMLSelectElement)) return;
    const known = { size: seen.size, treads: fields.treads, tire: hasTire(seen.line) };
    const to = leadsTo(at.type === "radio" ? "kind" : at.id, known);
    if (to === null) return;
    event.preventDefault();
    focus(to);
  }

  const read = () => faultsIn({ fields, typed, seen, wanted }, today, w, all, dayInWords);

  /** The first field that cannot be told as it stands; what is wrong is said at it. */
  function wrong(): string | null {
    const found = read();
    setFaults(found.faults);
    setLacking(found.lacking);
    if (found.at !== null) return found.at;
    const reason = wantsReason(checking.result, seen);
    setReasonAsked(reason);
    return reason ? "overruled" : null;
  }

  function goTo(at: string) {
    const part = PART_OF[at];
    if (part !== undefined) open(part)(true);
    setTimeout(() => focus(at));
  }

  async function save(evenIfTwin: boolean) {
    const at = wrong();
    if (at !== null) return goTo(at);
    if (other !== null && !evenIfTwin) return focus("save-anyway");
    const ours = isOurs(label);
    const told = wantedPayload(wanted, offer);
    const telling = pickUp(
      entered(
        { pickup, yard, store: storeOf(now) },
        {
          label,
          seen: { ...seen, findings: photosKept(seen.findings, hashes()) },
          checked: checking.checked,
          wanted: told,
          note: fields.note,
          photos: hashes(),
        },
      ),
    );
    await tell(telling, {
      first: () => (ours ? owePrint(phone, label) : Promise.resolve()),
      kept: () => {
        scannedLabel.value = "";
        begin();
        if (ours && printing.value.how === "at_once") void print(phone, [label]);
      },
    });
  }

  /** Not taken: kept with what was seen of it; the label stays for the next one. */
  async function leave() {
    const found = leftBy(read());
    setFaults(found.faults);
    if (found.at !== null) return goTo(found.at);
    const at = { pickup, yard, store: storeOf(now) };
    const sheetFields = { ...BLANK, ...seen, note: fields.note };
    await tell(leaveHere(leftPayload(at, sheetFields, checking.checked, hashes())), {
      kept: () => {
        if (sound && fields.label !== "") scannedLabel.value = fields.label;
        begin();
      },
    });
  }

  const hashes = () => [
    ...new Set([...fields.photos, ...sheet.photos.map(({ sha256 }) => sha256)]),
  ];

  function begin() {
    setFaults({});
    setLacking(null);
    setReasonAsked(false);
    props.onSaved();
  }

  /** Without what is not asked for this kind. */
  const wantedFoldSaid = (): string =>
    isPromised(seen.line)
      ? wantedSaid(wanted, all)
      : [
          wanted.purchase_order && all.purchase_order_short(wanted.purchase_order),
          seen.line !== "sell" && all.backs_short[wanted.back_to],
        ]
          .filter(Boolean)
          .join(" · ");

  const carried = fields.wanted === null && last !== undefined;
  // What is as before says nothing of this one yet.
  const begun = fields.tin !== "" || fields.treads !== "" || Object.keys(fields.seen).length > 0;
  return (
    <form
      class="entry"
      noValidate
      aria-label={w.casing_n(before.length + 1)}
      onKeyDown={leadOn}
      onSubmit={(event) => {
        event.preventDefault();
        void save(false);
      }}
    >
      <h2>{w.casing_n(before.length + 1)}</h2>
      <Kinds line={seen.line} onLine={choose} />
      <div class="sidewall">
        <LabelLine
          typed={fields.label}
          label={label}
          offline={offline}
          fault={faults.label ?? null}
          onType={(value) => put({ label: value }, "label")}
          onFault={(fault) => setFaults({ ...faults, label: fault })}
          onNext={() => focus(hasTire(seen.line) ? "tin" : "rim")}
        />
        <Sidewall
          fields={fields}
          seen={seen}
          yard={yard}
          today={today}
          pull={checking.specification?.pull_32nds ?? null}
          faults={faults}
          put={put}
          onSeen={see}
          onPicked={() => focus("treads")}
        />
      </div>
      {other !== null && (
        <CasingTwin
          other={other}
          pickup={pickup}
          correcting={false}
          shut={now.shut !== null}
          disabled={busy || developing}
          onSave={() => void save(true)}
        />
      )}
      <LineFields fields={seen} fill={see} fault={lacking} />
      <Fold
        id="ran"
        title={w.ran}
        said={[all.positions[seen.position as "steer"] ?? "", ranSaid(seen, wanted.unit, all, last)]
          .filter(Boolean)
          .join(" · ")}
        by="F2"
        open={isOpen("ran", false)}
        onOpen={open("ran")}
      >
        <WhereItRan
          seen={seen}
          unit={wanted.unit}
          onSeen={see}
          onUnit={(unit) => {
            want({ unit });
            // What the vehicle before had run is not what this one has.
            if (fields.seen.odometer === undefined) see({ odometer: "" });
          }}
        />
      </Fold>
      {hasTire(seen.line) && (
        <Fold
          id="condition-part"
          title={all.condition}
          said={w.condition_none_short}
          by="F4"
          open={isOpen("condition", false) || seen.findings.length > 0 || fields.code !== ""}
          onOpen={open("condition")}
        >
          <SeenCode
            findings={seen.findings}
            text={fields.code}
            fault={faults["seen-code"] ?? null}
            onText={(code) => put({ code }, "seen-code")}
            fill={see}
          />
          <ConditionFieldset key={sheet.id} fields={seen} fill={see} keepPhoto={keepPhoto} />
        </Fold>
      )}
      {(begun || reasonAsked) && (
        <SpecSentence
          checking={checking}
          fields={seen}
          fill={see}
          asked={reasonAsked}
          onLeave={now.shut === null ? () => void leave() : null}
        />
      )}
      <Fold
        id="wanted"
        title={all.wanted_title}
        said={[carried ? w.as_before : "", wantedFoldSaid()].filter(Boolean).join(": ")}
        by="F8"
        open={isOpen("wanted", last === undefined)}
        onOpen={open("wanted")}
      >
        <DenseWanted
          fields={wanted}
          line={seen.line}
          position={seen.position}
          spec={checking.specification}
          offer={offer}
          size={seen.size}
          table={now.promises}
          duals={before}
          fault={faults["promised-on"] ?? null}
          today={today}
          onFields={(some) => {
            setFaults({ ...faults, "promised-on": null });
            want(some);
          }}
        />
      </Fold>
      <Fold
        id="beside-it"
        title={w.more}
        said={fields.note}
        open={isOpen("note", fields.note !== "" || sheet.photos.length > 0)}
        onOpen={open("note")}
      >
        <NoteField value={fields.note} onValue={(note) => put({ note }, "note")} />
        <Photos sheet={sheet} busy={developing} onBusy={setDeveloping} />
      </Fold>
      <Unsaved when={failed} />
      {now.shut !== null ? (
        <p class="notice">{all.shut_save}</p>
      ) : (
        <button
          type="submit"
          class={sound && !props.all ? "button next" : "button"}
          disabled={busy || developing || !sheet.ready}
          {...testid("save")}
        >
          {w.save}
          {sound && <span class="code"> {shown(label)}</span>}
        </button>
      )}
    </form>
  );
}
