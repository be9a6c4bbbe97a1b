/**
 * A lost or spoiled label gives way to a new one on the same casing: what happened, the new label
 * by camera, wedge or hand, how the casing was known, and a photo of what says so. Used in the yard,
 * on the road and at the counter; it knows no screen around it.
 */
import { useState } from "preact/hooks";
import { fault as faultOf, shown, tidy } from "../../domain/labels";
import { relabel } from "../../domain/operation";
import type { Casing } from "../../domain/rows";
import { wearing } from "../../domain/view";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { testid } from "../testids";
import { useWedge } from "../wedge";
import { Unsaved } from "../Unsaved";
import { words } from "../words";
import { useSheet } from "../yard/draft";
import { NOTE_MOST } from "../yard/fields";
import { Photos } from "../yard/Photos";
import { relabelKey, yardName } from "../yard/visits";
import { mistyped, odd } from "./labelWords";
import { BLANK, unsaid } from "./relabelling";
import { useCamera } from "./useCamera";

export function RelabelForm(props: {
  casing: Casing;
  /** Told and on the disk; `now` is the new label. */
  onDone: (now: string) => void;
  hands?: "gloved" | "typist" | undefined;
}) {
  const { casing } = props;
  const phone = usePhone();
  const w = words.value;
  const known = phone.now.value;
  const sheet = useSheet(relabelKey(casing.id), BLANK);
  const { fill } = sheet;
  const { why, typed, known_by: knownBy } = sheet.fields;
  const [developing, setDeveloping] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const [tried, setTried] = useState(false);
  const [failed, setFailed] = useState(false);
  const [busy, setBusy] = useState(false);
  const lacking = unsaid(sheet.fields, w);
  const now = tidy(typed);
  const sound = faultOf(now) === null;
  const other = sound ? wearing(known.casings.values(), now) : null;
  const worn = other !== null && other.id !== casing.id ? other : null;

  function take(code: string): void {
    setFault(null);
    fill({ typed: shown(code) });
    document.getElementById("known-by")?.focus();
  }

  useWedge(
    "relabel-now",
    ({ text, code, elsewhere }) => {
      if (code !== null) take(code);
      else if (!elsewhere) setFault(w.scan_not_ours(text.slice(0, 40)));
    },
    props.hands,
  );

  const camera = useCamera({ id: "relabel-now", testid: "relabel-scan", sound }, take, setFault);

  async function save(): Promise<void> {
    const wrong = now === casing.label ? w.relabel_same : mistyped(typed, known, w);
    setFault(wrong);
    setTried(true);
    if (wrong !== null) return document.getElementById("relabel-now")?.focus();
    if (why === "" || lacking.at !== null)
      return document.getElementById(lacking.at ?? "")?.focus();
    if (busy || developing || !sheet.ready) return;
    setBusy(true);
    try {
      const photos = sheet.photos.map(({ sha256, blob }) => ({ sha256, blob }));
      const hashes = photos.map(({ sha256 }) => sha256);
      const told = { label: casing.label, now, why, known_by: knownBy.trim(), photos: hashes };
      await sheet.enter(relabel(told), photos, () => props.onDone(now));
    } catch {
      setFailed(true);
      setBusy(false);
    }
  }

  if (known.shut !== null) return <p class="fault">{w.shut_save}</p>;
  return (
    <form
      class="stack"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
      {...testid("relabel-form")}
    >
      <p>{w.relabel_say(shown(casing.label))}</p>
      <fieldset id="relabel-why" tabIndex={-1} class="stack">
        <legend>{w.relabel_why}</legend>
        {(["lost", "spoiled"] as const).map((one) => (
          <button
            key={one}
            type="button"
            class="button wide"
            aria-pressed={why === one}
            onClick={() => fill({ why: one })}
            {...testid(`relabel-${one}`)}
          >
            {one === "lost" ? w.relabel_lost : w.relabel_spoiled}
          </button>
        ))}
        {tried && lacking.why !== null && (
          <p class="fault" role="alert" {...testid("relabel-why-fault")}>
            {lacking.why}
          </p>
        )}
      </fieldset>
      <Field
        id="relabel-now"
        title={w.relabel_now}
        hint={w.relabel_now_hint}
        good={sound ? w.label_sound : null}
        asks={
          worn !== null
            ? w.relabel_worn(
                shown(now),
                [worn.size, yardName(known, worn.yard)].filter(Boolean).join(", "),
              )
            : sound && now !== casing.label
              ? odd(now, known, w)
              : null
        }
        fault={fault}
        value={typed}
        onValue={(value) => {
          setFault(null);
          fill({ typed: faultOf(tidy(value)) === null ? shown(tidy(value)) : value });
        }}
        code
        beside={camera.key}
        input={{
          ...testid("relabel-now"),
          autocapitalize: "characters",
          spellcheck: false,
          enterkeyhint: "next",
          onBlur: () => typed.trim() !== "" && setFault(mistyped(typed, known, w)),
          onKeyDown: (event) => {
            if (event.key !== "Enter") return;
            event.preventDefault();
            const value = (event.target as HTMLInputElement).value;
            const wrong = mistyped(value, known, w);
            if (wrong === null) take(tidy(value));
            else setFault(wrong);
          },
        }}
      />
      <fieldset class="stack">
        <legend>{w.relabel_known_by}</legend>
        <div class="stack">
          {w.relabel_known_bys.map((given) => (
            <button
              key={given}
              type="button"
              class="button"
              aria-pressed={knownBy === given}
              onClick={() => fill({ known_by: given })}
            >
              {given}
            </button>
          ))}
        </div>
        <Field
          id="known-by"
          title={w.note}
          fault={tried ? lacking.known_by : null}
          value={knownBy}
          onValue={(value) => fill({ known_by: value })}
          input={{ ...testid("known-by"), maxLength: NOTE_MOST }}
        />
      </fieldset>
      <Photos sheet={sheet} busy={developing} onBusy={setDeveloping} />
      <Unsaved when={failed} />
      <button
        type="submit"
        class={sound && worn === null ? "button primary" : "button wide"}
        disabled={busy || developing || !sheet.ready}
        {...testid("relabel-save")}
      >
        {worn === null ? w.relabel_do : w.relabel_anyway}
      </button>
      {camera.dialog}
    </form>
  );
}
