/** Scrap of a pickup: counted, never labelled; told again where it was wrong, or taken back. */
import { useEffect, useRef, useState } from "preact/hooks";
import { countScrap } from "../../domain/operation";
import type { VisitLine } from "../../domain/rows";
import { Bar } from "../../ui/Bar";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { go, goFrom, route } from "../route";
import { testid } from "../testids";
import { Unsaved } from "../Unsaved";
import { words } from "../words";
import { useSheet } from "./draft";
import { NoteField } from "./NoteField";
import { Photos } from "./Photos";
import {
  BLANK_SCRAP,
  MANIFEST_MOST,
  type ScrapFault,
  scrapFault,
  scrapOf,
  scrapPayload,
  stepped,
} from "./scrap";
import { isOpen, pickupOf, scrapKey, yardOf } from "./visits";

/** `line` is the scrap that is corrected; none where it is counted. */
export function ScrapScreen({ pickup: id, line: which }: { pickup: string; line: string }) {
  const now = usePhone().now.value;
  const pickup = pickupOf(now, id);
  const yard = yardOf(now, id);
  const line = pickup?.lines.find((one) => one.id === which && one.kind === "scrap") ?? null;
  const open =
    yard !== null && (pickup === null || isOpen(pickup)) && (which === "" || line !== null);
  useEffect(() => {
    if (!open) go("pickup", id);
  }, [open, id]);
  return open ? <Scrap pickup={id} yard={yard} line={line} /> : null;
}

function Scrap(props: { pickup: string; yard: string; line: VisitLine | null }) {
  const { pickup, yard } = props;
  const phone = usePhone();
  const w = words.value;
  const line = useRef(props.line).current; // what it was when this screen was opened
  const began = line === null ? BLANK_SCRAP : scrapOf(line);
  const sheet = useSheet(scrapKey(line?.id ?? pickup), began);
  const { fields, fill } = sheet;
  const [fault, setFault] = useState<ScrapFault | null>(null);
  const [failed, setFailed] = useState(false);
  const [busy, setBusy] = useState(false);
  const [developing, setDeveloping] = useState(false);
  const shut = phone.now.value.shut !== null;
  const step = (by: number) => () => fill((latest) => ({ pieces: stepped(latest.pieces, by) }));
  const said = (at: ScrapFault["at"]) => (fault?.at === at ? fault.said : null);

  async function tell(back: boolean) {
    const wrong = back ? null : scrapFault(fields, w);
    setFault(wrong);
    if (wrong !== null) return document.getElementById(wrong.at)?.focus();
    if (busy || developing || shut || !sheet.ready) return;
    setBusy(true);
    const here = route.value;
    try {
      const hashes = sheet.photos.map(({ sha256 }) => sha256);
      const at = { pickup, yard, store: line?.store ?? null };
      // What is taken back is told as it stood, with none of it.
      const told = back
        ? { ...scrapPayload(at, began, [], line?.id ?? null), count: 0 }
        : scrapPayload(at, fields, hashes, line?.id ?? null);
      const photos = back ? [] : sheet.photos.map(({ sha256, blob }) => ({ sha256, blob }));
      await sheet.enter(countScrap(told), photos);
      goFrom(here, "pickup", pickup);
    } catch {
      setFailed(true);
      setBusy(false);
    }
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
      <h1 tabIndex={-1}>{line === null ? w.scrap_title : w.scrap_correct}</h1>
      <p>{w.scrap_say}</p>
      <p class="caution">{w.scrap_caution}</p>
      <Field
        id="pieces"
        title={w.scrap_count}
        fault={said("pieces")}
        value={fields.pieces}
        onValue={(pieces) => fill({ pieces })}
        beside={[-1, 1, 5].map((by) => (
          <button
            key={by}
            type="button"
            class="button step"
            aria-label={w.scrap_step(by)}
            onClick={step(by)}
            {...testid(`scrap-step-${by}`)}
          >
            {by < 0 ? `−${-by}` : `+${by}`}
          </button>
        ))}
        input={{ ...testid("pieces"), inputMode: "numeric", maxLength: 4, class: "count-field" }}
      />
      <Field
        id="manifest"
        title={w.scrap_manifest}
        hint={w.scrap_manifest_hint}
        value={fields.manifest}
        onValue={(manifest) => fill({ manifest })}
        input={{ ...testid("manifest"), maxLength: MANIFEST_MOST, spellcheck: false }}
      />
      <Field
        id="fee"
        title={w.scrap_fee}
        hint={w.scrap_fee_hint}
        fault={said("fee")}
        value={fields.fee}
        onValue={(fee) => fill({ fee })}
        input={{ ...testid("fee"), inputMode: "decimal", maxLength: 12 }}
      />
      <NoteField value={fields.note} onValue={(note) => fill({ note })} />
      <Photos sheet={sheet} busy={developing} onBusy={setDeveloping} />
      {line !== null && !shut && (
        <div>
          <button
            type="button"
            class="button"
            disabled={busy || developing || !sheet.ready}
            onClick={() => void tell(true)}
            {...testid("scrap-back")}
          >
            {w.scrap_take_back}
          </button>
          <p class="soft">{w.scrap_take_back_say}</p>
        </div>
      )}
      <Unsaved when={failed} />
      {shut ? (
        <p class="notice">{w.shut_save}</p>
      ) : (
        <Bar>
          <button
            type="submit"
            class="button primary"
            disabled={busy || developing || !sheet.ready}
            {...testid("scrap-save")}
          >
            {w.scrap_save}
            {/^[0-9]+$/.test(fields.pieces.trim()) && ` · ${fields.pieces.trim()}`}
          </button>
        </Bar>
      )}
    </form>
  );
}
