/** Scrap at the counter: how many, the fee for each, the paper they travel under; counted on Enter. */
import { useState } from "preact/hooks";
import { countScrap } from "../../domain/operation";
import type { VisitLine } from "../../domain/rows";
import { counted } from "../../domain/shown";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { testid } from "../testids";
import { Unsaved } from "../Unsaved";
import { words } from "../words";
import { useSheet } from "../yard/draft";
import {
  BLANK_SCRAP,
  MANIFEST_MOST,
  type ScrapFault,
  type ScrapFields,
  scrapFault,
  scrapOf,
  scrapPayload,
} from "../yard/scrap";
import { scrapKey } from "../yard/visits";
import { useClearable } from "./clearing";
import { Fold } from "./Fold";
import { storeOf } from "./visits";
import { counterWords } from "./words";

const BLANK: ScrapFields = { ...BLANK_SCRAP, pieces: "" };

export function Scrap(props: {
  pickup: string;
  yard: string;
  lines: VisitLine[];
  onSaved: () => void;
}) {
  const w = counterWords.value;
  const all = words.value;
  const [open, setOpen] = useState(false);
  const { scrap } = counted(props.lines);
  return (
    <Fold
      id="scrap"
      title={all.scrap_title}
      said={scrap === 0 ? w.scrap_none : ""}
      by="F9"
      open={open}
      onOpen={setOpen}
    >
      <ScrapForm
        pickup={props.pickup}
        yard={props.yard}
        line={null}
        onDone={() => {
          setOpen(false);
          props.onSaved();
        }}
      />
    </Fold>
  );
}

/** `line` is told again where it was wrong; none where scrap is counted. */
export function ScrapForm(props: {
  pickup: string;
  yard: string;
  line: VisitLine | null;
  onDone: () => void;
}) {
  const { pickup, yard, line } = props;
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const began = line === null ? BLANK : scrapOf(line);
  const sheet = useSheet(scrapKey(line?.id ?? pickup), began);
  const { fields, fill } = sheet;
  useClearable(scrapKey(line?.id ?? pickup), sheet);
  const [fault, setFault] = useState<ScrapFault | null>(null);
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState(false);
  const id = (name: string) => (line === null ? name : `${name}-again`);

  async function tell(back: boolean) {
    const wrong = back ? null : scrapFault(fields, w);
    setFault(wrong);
    if (wrong !== null) return document.getElementById(id(wrong.at))?.focus();
    if (busy || now.shut !== null || !sheet.ready) return;
    setBusy(true);
    setFailed(false);
    try {
      const at = { pickup, yard, store: storeOf(now) };
      const told = scrapPayload(at, back ? began : fields, [], line?.id ?? null);
      await sheet.enter(countScrap(back ? { ...told, count: 0 } : told), [], props.onDone);
    } catch {
      setFailed(true);
    } finally {
      setBusy(false);
    }
  }

  const said = (at: ScrapFault["at"]) => (fault?.at === at ? fault.said : null);
  return (
    <form
      class="stack"
      noValidate
      aria-label={line === null ? w.scrap_title : w.scrap_correct}
      onSubmit={(event) => {
        event.preventDefault();
        void tell(false);
      }}
    >
      <p class="caution">{w.scrap_caution}</p>
      <div class="three">
        <Field
          id={id("pieces")}
          title={w.scrap_count}
          fault={said("pieces")}
          value={fields.pieces}
          onValue={(pieces) => fill({ pieces })}
          input={{ ...testid(id("pieces")), inputMode: "numeric", maxLength: 4 }}
        />
        <Field
          id={id("fee")}
          title={w.scrap_fee}
          fault={said("fee")}
          value={fields.fee}
          onValue={(fee) => fill({ fee })}
          input={{ ...testid(id("fee")), inputMode: "decimal", maxLength: 12 }}
        />
        <Field
          id={id("manifest")}
          title={w.scrap_manifest}
          value={fields.manifest}
          onValue={(manifest) => fill({ manifest })}
          input={{ ...testid(id("manifest")), maxLength: MANIFEST_MOST, spellcheck: false }}
        />
      </div>
      <Unsaved when={failed} />
      {now.shut !== null ? (
        <p class="notice">{w.shut_save}</p>
      ) : (
        <div class="keys-row">
          <button type="submit" class="button" disabled={busy} {...testid(id("scrap-save"))}>
            {w.scrap_save}
          </button>
          {line !== null && (
            <button
              type="button"
              class="button"
              disabled={busy}
              onClick={() => void tell(true)}
              {...testid("scrap-back")}
            >
              {w.scrap_take_back}
            </button>
          )}
        </div>
      )}
    </form>
  );
}
