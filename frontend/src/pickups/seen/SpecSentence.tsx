/**
 * Take it, let the plant decide, or leave it here, and why: said before it is lifted. The verdict
 * is told by its word and its shape. What should stay is taken with a reason only.
 *
 *   const checking = useCheck(fields, yard, today, work);
 *   <SpecSentence checking={checking} fields={fields} fill={fill} asked={tried} onLeave={leave} />
 *   wantsReason(checking.result, fields)      // before saving; then `showVerdict()`
 */
import type { Verdict } from "../../domain/operation";
import { Field } from "../../ui/Field";
import { testid } from "../testids";
import { words } from "../words";
import { cautionsSaid } from "./findings";
import type { FillSeen, SeenFields } from "./seen";
import { groundSaid, OVERRULED_MOST, verdictSaid, wantsReason } from "./spec";
import type { Checking } from "./useCheck";

const VERDICT = "spec-verdict";

interface Props {
  checking: Checking;
  fields: SeenFields;
  fill: FillSeen;
  /** Somebody tried to save it without a reason. */
  asked: boolean;
  /** Leaves it where it is; none where that cannot be told. */
  onLeave: (() => void) | null;
}

export function SpecSentence({ checking, fields, fill, asked, onLeave }: Props) {
  const w = words.value;
  const { result, specification, looked, today } = checking;
  if (fields.line === "wheel" || (!looked && !asked)) return null;
  const stays = result.verdict === "leave";
  const told = stays ? cautionsSaid(fields.findings) : [];
  const cautions = told.map((caution) => w.cautions[caution]).join(" ");
  const overruled = stays && fields.overruled !== "";
  return (
    <section class="seen-part spec" aria-labelledby={VERDICT}>
      <div role="status" {...testid("spec")} data-verdict={result.verdict}>
        <p class="spec-verdict" id={VERDICT} tabIndex={-1}>
          <Sign of={result.verdict} /> {verdictSaid(result, w)}
        </p>
        <ul>
          {result.grounds.map((ground) => {
            const said = groundSaid(ground, fields, today, w);
            return <li key={said}>{said}</li>;
          })}
          {result.grounds.length === 0 && <li>{w.spec_fine}</li>}
        </ul>
        {cautions !== "" && (
          <p class="caution" {...testid("spec-caution")}>
            {cautions}
          </p>
        )}
        {wantsReason(result, fields) && <p>{w.spec_stays}</p>}
        <p class="soft">{specification === null ? w.spec_none : w.spec_by(specification.number)}</p>
      </div>
      {result.verdict !== "take" && !overruled && onLeave !== null && (
        <div>
          <button type="button" class="button wide" onClick={onLeave} {...testid("leave-here")}>
            {w.leave_do}
          </button>
          <p class="soft">{w.leave_say}</p>
        </div>
      )}
      {stays && (
        <Overrule fields={fields} fill={fill} asked={asked && wantsReason(result, fields)} />
      )}
    </section>
  );
}

/** The reason comes into sight first, whole, then the two ways out; it is read out too. */
export function showVerdict(): void {
  const verdict = document.getElementById(VERDICT);
  verdict?.focus({ preventScroll: true });
  verdict?.scrollIntoView({ block: "start" });
}

function Overrule(props: { fields: SeenFields; fill: FillSeen; asked: boolean }) {
  const { fields, fill, asked } = props;
  const w = words.value;
  const given = fields.overruled;
  return (
    <details class="overrule" open={asked || given !== ""}>
      <summary class="button" {...testid("overrule")}>
        {w.spec_overrule}
      </summary>
      <fieldset class="stack">
        <legend>{w.spec_overrule_why}</legend>
        <div class="choices">
          {w.spec_overrule_reasons.map((why, i) => (
            <button
              key={why}
              type="button"
              class="button"
              aria-pressed={given === why}
              onClick={() => fill({ overruled: given === why ? "" : why })}
              {...testid(`overrule-${i + 1}`)}
            >
              {why}
            </button>
          ))}
        </div>
        <Field
          id="overruled"
          title={w.spec_overrule_typed}
          fault={asked ? w.spec_overrule_missing : null}
          value={given}
          onValue={(overruled) => fill({ overruled })}
          input={{ ...testid("overruled"), maxLength: OVERRULED_MOST }}
        />
      </fieldset>
    </details>
  );
}

/** A tick in a ring, a half-filled ring, a stop with a bar: told apart without colour. */
function Sign({ of }: { of: Verdict }) {
  return (
    <svg class="sign" viewBox="0 0 32 32" aria-hidden="true" focusable="false" data-of={of}>
      {of === "take" && (
        <g fill="none" stroke="currentColor" stroke-width="3.5">
          <circle cx="16" cy="16" r="13.5" />
          <path d="M9 16.5 L14 21.5 L23 11" />
        </g>
      )}
      {of === "plant" && (
        <g>
          <circle cx="16" cy="16" r="13.5" fill="none" stroke="currentColor" stroke-width="3.5" />
          <path d="M16 2.5 A13.5 13.5 0 0 1 16 29.5 Z" fill="currentColor" />
        </g>
      )}
      {of === "leave" && (
        <g>
          <path d="M10 2 H22 L30 10 V22 L22 30 H10 L2 22 V10 Z" fill="currentColor" />
          <path d="M9 16 H23" stroke="var(--paper)" stroke-width="5" />
        </g>
      )}
    </svg>
  );
}
