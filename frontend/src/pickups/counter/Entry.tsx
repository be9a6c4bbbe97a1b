/**
 * One casing after the other, without a mouse: label, TIN, size, treads, what is wanted. Enter leads
 * on to the treads and from there on saves and begins the next; a scanned label counts wherever
 * the cursor stands.
 */
import { useState } from "preact/hooks";
import { fault as faultOf, LENGTH, shown, tidy } from "../../domain/labels";
import { DEEPEST_32NDS, pickUp } from "../../domain/operation";
import { dayOf } from "../../domain/promise";
import type { Casing } from "../../domain/rows";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { testid } from "../testids";
import { dayFault, offerFor, wantedPayload } from "../wanted/wanted";
import { useWedge } from "../wedge";
import { dayInWords, words } from "../words";
import type { Sheet } from "../yard/draft";
import { labelFault, MOST_GROOVES, NOTE_MOST, roomLeft, twin } from "../yard/fields";
import { Photos } from "../yard/Photos";
import { tinSaid } from "../yard/tinWords";
import { yardName } from "../yard/visits";
import { DenseWanted } from "./DenseWanted";
import { entered, type EntryFields, sizeFor, wantedFor } from "./entry";
import { print } from "./printing";
import { isOurs, nextLabel, noConnection, owePrint, printing } from "./stock";
import { treadsIn, treadsSoFar } from "./treads";
import { scannedLabel, storeOf } from "./visits";
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
  onSaved: (label: string) => void;
}) {
  const { pickup, yard, sheet, before } = props;
  const phone = usePhone();
  const now = phone.now.value;
  const w = counterWords.value;
  const all = words.value;
  const { fields, fill } = sheet;
  const [faults, setFaults] = useState<Record<string, string | null>>({});
  const [busy, setBusy] = useState(false);
  const [developing, setDeveloping] = useState(false);
  const [failed, setFailed] = useState(false);

  const offline = noConnection(phone);
  const next = offline ? "" : nextLabel(now);
  const typed = fields.label !== "" ? fields.label : scannedLabel.value || next;
  const label = tidy(typed);
  const sound = faultOf(label) === null;
  const proposed = fields.label === "" && sound;
  const other = sound ? twin(now.pickups, label, null) : null;

  const last = before.at(-1);
  const today = dayOf(phone.deps.clock.now());
  const size = sizeFor(fields, last);
  const wanted = wantedFor(fields, last, today);
  const offer = offerFor(now.promises, wanted, yard, today);
  const treads = treadsSoFar(fields.treads);
  const tin = tinSaid(fields.tin, today, all);

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

  /** Half a casing is not saved by the Enter after its first field. */
  function leadOn(event: KeyboardEvent, next: string) {
    if (event.key !== "Enter" || fields.treads.trim() !== "") return;
    event.preventDefault();
    focus(next);
  }

  function put(some: Partial<EntryFields>, field: string) {
    setFaults({ ...faults, [field]: null });
    fill(some);
  }

  function wrong(): string | null {
    const found = {
      label: labelFault(typed, all),
      treads: treadsFault(fields.treads),
      "promised-on": dayFault(wanted, today, all, dayInWords),
    };
    setFaults(found);
    return Object.entries(found).find(([, fault]) => fault !== null)?.[0] ?? null;
  }

  function treadsFault(text: string): string | null {
    const read = treadsIn(text);
    if ("wrong" in read) return w.treads_wrong(read.wrong, DEEPEST_32NDS);
    return "many" in read ? w.treads_many(MOST_GROOVES) : null;
  }

  async function save(evenIfTwin: boolean) {
    const at = wrong();
    if (at !== null) return focus(at);
    if (other !== null && !evenIfTwin) return focus("save-anyway");
    if (busy || developing || now.shut !== null || !sheet.ready) return;
    setBusy(true);
    setFailed(false);
    try {
      const ours = isOurs(label);
      const hashes = sheet.photos.map(({ sha256 }) => sha256);
      const told = wantedPayload(wanted, offer.on, offer.table);
      const payload = entered(
        { pickup, yard, store: storeOf(now) },
        { label, size, fields, wanted: told, photos: hashes },
      );
      const photos = sheet.photos.map(({ sha256, blob }) => ({ sha256, blob }));
      if (ours) await owePrint(phone, label);
      await sheet.enter(pickUp(payload), photos, () => {
        scannedLabel.value = "";
        setFaults({});
        props.onSaved(label);
      });
      if (ours && printing.value.how === "at_once") void print(phone, [label]);
    } catch {
      setFailed(true);
    } finally {
      setBusy(false);
    }
  }

  return (
    <form
      class="entry"
      noValidate
      aria-label={w.casing_n(before.length + 1)}
      onSubmit={(event) => {
        event.preventDefault();
        void save(false);
      }}
    >
      <h2>{w.casing_n(before.length + 1)}</h2>
      <div class="four">
        <Field
          id="label"
          title={all.label}
          hint={labelHint()}
          good={proposed ? null : sound ? all.label_sound : null}
          fault={faults.label ?? null}
          value={fields.label !== "" ? fields.label : sound ? shown(label) : ""}
          onValue={(value) => {
            const code = tidy(value);
            put({ label: faultOf(code) === null ? shown(code) : value }, "label");
            if (faultOf(code) !== null && code.length >= LENGTH && !/[/:?]/.test(value))
              setFaults({ ...faults, label: labelFault(value, all) });
          }}
          code
          input={{
            ...testid("label"),
            autocapitalize: "characters",
            spellcheck: false,
            onFocus: (event) => (event.target as HTMLInputElement).select(),
            onKeyDown: (event) => {
              // A label leads on to the TIN; a whole casing is saved from there.
              if (event.key !== "Enter") return;
              event.preventDefault();
              const fault = labelFault((event.target as HTMLInputElement).value, all);
              setFaults({ ...faults, label: fault });
              if (fault === null) focus("tin");
            },
          }}
        />
        <Field
          id="tin"
          title={all.tin}
          hint={tin.text}
          good={tin.tone === "good" ? tin.text : null}
          asks={tin.tone === "asks" ? tin.text : null}
          value={fields.tin}
          onValue={(value) => put({ tin: value }, "tin")}
          input={{
            ...testid("tin"),
            maxLength: 24,
            autocapitalize: "characters",
            spellcheck: false,
            onKeyDown: (event) => leadOn(event, "size"),
          }}
        />
        <Field
          id="size"
          title={all.size}
          hint={fields.size === null && size !== "" ? w.as_before : ""}
          value={size}
          onValue={(value) => put({ size: value }, "size")}
          input={{
            ...testid("size"),
            maxLength: 24,
            spellcheck: false,
            onKeyDown: (event) => leadOn(event, "treads"),
            onFocus: (event) => (event.target as HTMLInputElement).select(),
          }}
        />
        <Field
          id="treads"
          title={w.treads}
          hint={w.treads_hint}
          fault={faults.treads ?? ("depths" in treads ? null : treadsFault(fields.treads))}
          good={
            "depths" in treads && treads.depths.length > 0
              ? w.treads_read(treads.depths.length, Math.min(...treads.depths))
              : null
          }
          value={fields.treads}
          onValue={(value) => put({ treads: value }, "treads")}
          input={{ ...testid("treads"), spellcheck: false }}
        />
      </div>
      {other !== null && (
        <div class="notice" role="alert">
          <p class="fault">
            {all.label_twice(
              other.pickup.id === pickup
                ? all.label_here(other.pickup.casings.indexOf(other.casing) + 1)
                : all.label_elsewhere(yardName(now, other.casing.yard)),
            )}
          </p>
          <p>{all.label_twice_ask}</p>
          <button
            id="save-anyway"
            type="button"
            class="button"
            onClick={() => void save(true)}
            {...testid("save-anyway")}
          >
            {all.save_twice}
          </button>
        </div>
      )}
      <DenseWanted
        fields={wanted}
        carried={fields.wanted === null && last !== undefined}
        offer={offer.on}
        fault={faults["promised-on"] ?? null}
        today={today}
        onFields={(some) => put({ wanted: { ...wanted, ...some } }, "promised-on")}
      />
      <details class="beside-it" open={fields.note !== "" || sheet.photos.length > 0}>
        <summary>{w.more}</summary>
        <Field
          id="note"
          title={all.note}
          rows={2}
          value={fields.note}
          asks={roomLeft(fields.note, all)}
          onValue={(note) => put({ note }, "note")}
          input={{ ...testid("note"), maxLength: NOTE_MOST }}
        />
        <Photos sheet={sheet} busy={developing} onBusy={setDeveloping} />
      </details>
      {failed && (
        <p class="fault" role="alert">
          {all.save_failed}
        </p>
      )}
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

  function labelHint(): string {
    if (fields.label === "" && scannedLabel.value !== "") return all.label_sound;
    if (proposed) return printing.value.how === "at_once" ? w.proposed_at_once : w.proposed;
    if (printing.value.how === "from_roll") return w.take_from_roll;
    return offline ? w.no_connection_roll : w.labels_coming;
  }
}
