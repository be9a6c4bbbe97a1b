/** A stop that is not made: why, so that the next one is next and the office knows. */
import { useState } from "preact/hooks";
import { skipStop, WHYS, type Why } from "../../domain/runTelling";
import { Choice } from "../../ui/Choice";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { goFrom, route } from "../route";
import { testid } from "../testids";
import { Unsaved } from "../Unsaved";
import { words } from "../words";
import { useSheet } from "../yard/draft";
import { NOTE_MOST, roomLeft } from "../yard/fields";
import { Photos } from "../yard/Photos";

const BLANK = { asked: false, why: "" as Why | "", note: "", photos: [] as string[] };

export function SkipStop({ run, stop }: { run: string; stop: string }) {
  const w = words.value;
  const sheet = useSheet(`skip:${stop}`, BLANK);
  if (!sheet.ready) return null;
  if (sheet.fields.asked) return <Skipping sheet={sheet} run={run} stop={stop} />;
  return (
    <button
      type="button"
      class="button plain"
      onClick={() => sheet.fill({ asked: true })}
      {...testid("skip")}
    >
      {w.day_skip}
    </button>
  );
}

function Skipping(props: {
  sheet: ReturnType<typeof useSheet<typeof BLANK>>;
  run: string;
  stop: string;
}) {
  const { sheet, run, stop } = props;
  const w = words.value;
  const { why, note } = sheet.fields;
  const [missing, setMissing] = useState(false);
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState(false);
  const shut = usePhone().now.value.shut !== null;
  const noteMissing = why === "other" && note.trim() === "";

  async function skip() {
    setMissing(true);
    if (why === "") return document.getElementById("skip")?.querySelector("input")?.focus();
    if (noteMissing) return document.getElementById("skip-note")?.focus();
    const here = route.value;
    const photos = sheet.photos.map(({ sha256, blob }) => ({ sha256, blob }));
    const told = { run, stop, why, note: note.trim(), photos: photos.map((one) => one.sha256) };
    try {
      await sheet.enter(skipStop(told), photos);
      goFrom(here);
    } catch {
      setFailed(true);
    }
  }

  return (
    <section class="notice stack" id="skip">
      <h2>{w.day_skip}</h2>
      <p>{w.day_skip_say}</p>
      <Choice
        name="skip"
        title={w.day_skip_why}
        values={[...WHYS]}
        names={w.day_skip_whys as Record<Why, string>}
        value={why === "" ? null : why}
        onValue={(said) => sheet.fill({ why: said })}
      />
      <p role="alert" class={missing && why === "" ? "fault" : ""} {...testid("skip-why-fault")}>
        {missing && why === "" ? w.day_skip_why_missing : ""}
      </p>
      <Field
        id="skip-note"
        title={why === "other" ? w.day_skip_note_other : w.day_skip_note}
        value={note}
        fault={missing && noteMissing ? w.day_skip_note_missing : null}
        asks={roomLeft(note, w)}
        onValue={(said) => sheet.fill({ note: said })}
        input={{ ...testid("skip-note"), maxLength: NOTE_MOST }}
      />
      <Photos sheet={sheet} busy={busy} onBusy={setBusy} />
      <Unsaved when={failed} />
      <button
        type="button"
        class="button wide"
        disabled={busy || shut}
        onClick={() => void skip()}
        {...testid("skip-confirm")}
      >
        {w.day_skip_do}
      </button>
      <button type="button" class="button plain" onClick={() => void sheet.clear()}>
        {w.back}
      </button>
    </section>
  );
}
