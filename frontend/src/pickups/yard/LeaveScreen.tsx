/** A casing that was left where it is: why, what was seen of it, a note; or it is taken after all. */
import { useEffect, useRef, useState } from "preact/hooks";
import { leaveHere } from "../../domain/operation";
import type { VisitLine } from "../../domain/rows";
import { Unsaved } from "../Unsaved";
import { keepDraft } from "../../store/local";
import { Bar } from "../../ui/Bar";
import { usePhone } from "../context";
import { go, goFrom, route } from "../route";
import { Cautions } from "../seen/Cautions";
import { lineSaid } from "../seen/visitLines";
import { testid } from "../testids";
import { numerals, words } from "../words";
import { useSheet } from "./draft";
import { leftAgain, takenAfterAll } from "./leaving";
import { NoteField } from "./NoteField";
import { Photos } from "./Photos";
import { isOpen, leftKey, pickupOf, sheetKey } from "./visits";

export function LeaveScreen({ pickup: id, line: which }: { pickup: string; line: string }) {
  const pickup = pickupOf(usePhone().now.value, id);
  const line = pickup?.lines.find((one) => one.id === which && one.kind === "left") ?? null;
  const open = line !== null && pickup !== null && isOpen(pickup);
  // From the press of the key on it is this screen that leads on.
  const leading = useRef(false);
  useEffect(() => {
    if (!open && !leading.current) go("pickup", id);
  }, [open, id]);
  return open ? <Left line={line} leading={leading} /> : null;
}

function Left(props: { line: VisitLine; leading: { current: boolean } }) {
  const phone = usePhone();
  const w = words.value;
  const line = useRef(props.line).current; // what it was when this screen was opened
  const { pickup } = line;
  const sheet = useSheet(leftKey(line.id), { note: line.note, photos: line.photos });
  const { fields, fill } = sheet;
  const [failed, setFailed] = useState(false);
  const [busy, setBusy] = useState(false);
  const [developing, setDeveloping] = useState(false);
  const { drafts, shut: shutWhy } = phone.now.value;
  const shut = shutWhy !== null;
  const [asked, setAsked] = useState(false);
  const another = drafts.some((draft) => draft.key === sheetKey(pickup));

  async function tell(taken: boolean) {
    if (busy || developing || shut || !sheet.ready) return;
    setAsked(taken);
    if (taken && another) return;
    setBusy(true);
    props.leading.current = true;
    const here = route.value;
    try {
      const more = sheet.photos.map(({ sha256, blob }) => ({ sha256, blob }));
      const photos = [...new Set([...fields.photos, ...more.map(({ sha256 }) => sha256)])];
      // Begun before the line goes: whatever stops the phone between, the casing stands somewhere.
      if (taken) await begin({ ...line, note: fields.note, photos });
      await sheet.enter(
        leaveHere(leftAgain(line, { note: fields.note.trim(), photos, taken })),
        more,
      );
      goFrom(here, "pickup", pickup);
    } catch {
      props.leading.current = false;
      setFailed(true);
      setBusy(false);
    }
  }

  async function begin(taken: VisitLine) {
    const key = sheetKey(pickup);
    const { clock, ids, store } = phone.deps;
    const begun = { ...takenAfterAll(taken) } as Record<string, unknown>;
    await keepDraft(store.local, {
      key,
      id: ids.next(),
      fields: begun,
      changed_at: clock.now(),
    });
    await phone.changed();
  }

  return (
    <form
      class="page stack"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        void tell(false);
      }}
    >
      <button type="button" class="button plain back" onClick={() => go("pickup", pickup)}>
        ‹ {w.back}
      </button>
      <h1 tabIndex={-1}>{w.left_title}</h1>
      <p {...testid("left-said")}>{lineSaid(line, w, numerals)}</p>
      <Cautions findings={line.findings} />
      <NoteField value={fields.note} onValue={(note) => fill({ note })} />
      <Photos sheet={sheet} busy={developing} onBusy={setDeveloping} />
      <Unsaved when={failed} />
      {shut ? (
        <p class="notice">{w.shut_save}</p>
      ) : (
        <>
          <div>
            <button
              type="button"
              class="button"
              disabled={busy || developing || !sheet.ready}
              onClick={() => void tell(true)}
              {...testid("left-taken")}
            >
              {w.left_taken}
            </button>
            <p role="alert" class="fault" {...testid("left-another")}>
              {asked && another ? w.left_taken_first : ""}
            </p>
            <p class="soft">{w.left_taken_say}</p>
          </div>
          <Bar>
            <button
              type="submit"
              class={sheet.begun ? "button primary" : "button wide"}
              disabled={busy || developing || !sheet.ready}
              {...testid("left-save")}
            >
              {w.save_correction}
            </button>
          </Bar>
        </>
      )}
    </form>
  );
}
