/** Why it is rejected: what fits the finding first, the whole catalogue behind a key, a word to find one. */
import { useState } from "preact/hooks";
import type { StationFinding } from "../../domain/plantTelling";
import { reasonInWords } from "../../pickups/said";
import { testid } from "../../pickups/testids";
import { Field } from "../../ui/Field";
import { likely, NEVER_RELEASED, REASONS } from "../reasons";
import { floorWords } from "../words";

const plain = (text: string): string => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();

export function Reasons(props: {
  station: string;
  findings: StationFinding[];
  value: string;
  fault: string | null;
  onValue: (reason: string) => void;
}) {
  const w = floorWords.value;
  const fit = likely(props.findings, props.station);
  const [all, setAll] = useState(false);
  const [sought, setSought] = useState("");
  const rest = REASONS.filter((code) => !fit.includes(code));
  const found = rest.filter((code) => plain(reasonInWords(code)).includes(plain(sought.trim())));
  const whole = all || fit.length === 0;
  const shown = whole ? [...fit, ...found] : fit;
  const chosen = props.value !== "" && !shown.includes(props.value) ? [props.value] : [];
  return (
    <fieldset class="choice">
      <legend>{w.reason_title}</legend>
      {whole && (
        <Field
          id="reason-find"
          title={w.reason_find}
          fault={props.fault}
          hint={w.reason_hint}
          value={sought}
          onValue={setSought}
          input={testid("reason-find")}
        />
      )}
      <div class="reasons">
        {[...chosen, ...shown].map((code) => (
          <button
            key={code}
            type="button"
            class="button"
            aria-pressed={props.value === code}
            onClick={() => props.onValue(code)}
            {...testid(`reason-${code}`)}
          >
            {reasonInWords(code)}
            {NEVER_RELEASED.has(code) && <span class="soft">{w.never_short}</span>}
          </button>
        ))}
      </div>
      {whole && sought !== "" && found.length === 0 && <p class="soft">{w.reason_none}</p>}
      {!whole && (
        <button type="button" class="button" onClick={() => setAll(true)} {...testid("reason-all")}>
          {w.reason_all(rest.length)}
        </button>
      )}
    </fieldset>
  );
}
