/**
 * The answers: three large ones and a smaller hold, in reach at the foot; the one that what was
 * noted speaks for is the yellow one. An answer that needs a reason asks for it here.
 */
import { isStop } from "../../domain/condition";
import type { Condition } from "../../domain/operation";
import { CAUSES, type Outcome } from "../../domain/plantTelling";
import { testid } from "../../pickups/testids";
import { spoken } from "../../pickups/words";
import type { Sheet } from "../../pickups/yard/draft";
import { Bar } from "../../ui/Bar";
import type { AnswerFields, Missing } from "../answer";
import type { Floor } from "../floor";
import { useInSight } from "../inSight";
import type { Work } from "../rows";
import { Sign } from "../Sign";
import { backTo, doneAt, isA, isBehindRepair, stationName, stationsOf } from "../stations";
import { floorWords } from "../words";
import { NoteAndPhoto } from "./NoteAndPhoto";
import { Reasons } from "./Reasons";

interface Given {
  floor: Floor;
  work: Work;
  sheet: Sheet<AnswerFields>;
  fill: (some: Partial<AnswerFields>) => void;
  fault: Missing | null;
  /** What was read differs from the order: no answer is the obvious one. */
  differs: boolean;
  busy: boolean;
  onBusy: (begins: boolean) => void;
  onAnswer: (outcome: Outcome) => void;
}

export function Answers(props: Given) {
  const { open } = props.sheet.fields;
  return open === "" ? <Keys {...props} /> : <Asked {...props} />;
}

function Keys({ floor, work, sheet, fill, fault, differs, busy, onAnswer }: Given) {
  const w = floorWords.value;
  const done = doneAt(floor.station, stationsOf(floor.route));
  const { findings } = sheet.fields;
  const stops = findings.some(({ kind }) => isStop(kind as Condition));
  // What is held or rejected goes on only when that was undone; home it goes all the same.
  const stuck = work.rejections.length > 0 || work.holds.length > 0;
  const leaves = isA(floor.station, "shipping") && work.holds.length === 0;
  const behind = isBehindRepair(floor.station, floor.order);
  const next: Outcome | null = stuck
    ? leaves
      ? done
      : null
    : stops
      ? "rejected"
      : findings.length > 0
        ? "repair"
        : differs && fault !== "built" && sheet.fields.retread_tin !== ""
          ? null
          : done;
  const key = (outcome: Outcome, onClick: () => void) => (
    <button
      type="button"
      class={`button answer${outcome === next ? " next" : ""}`}
      disabled={busy}
      onClick={onClick}
      {...testid(`answer-${outcome}`)}
    >
      <Sign of={outcome} />
      <span>{outcome === "repair" && behind ? w.answers.rework : w.answers[outcome]}</span>
    </button>
  );
  return (
    <Bar>
      <p role="alert" class={fault === null ? "" : "fault"} {...testid("answer-fault")}>
        {fault === null ? "" : w.missing[fault]}
      </p>
      {stuck && !leaves && <p class="asks">{w.stuck}</p>}
      <div class="answers">
        {(!stuck || leaves) && key(done, () => onAnswer(done))}
        {!stuck && key("repair", () => (behind ? fill({ open: "repair" }) : onAnswer("repair")))}
        {work.rejections.length === 0 && key("rejected", () => fill({ open: "rejected" }))}
        {!stuck && (
          <button
            type="button"
            class="button answer-small"
            disabled={busy}
            onClick={() => fill({ open: "hold" })}
            {...testid("answer-hold")}
          >
            <Sign of="hold" /> {w.answers.hold}
          </button>
        )}
      </div>
    </Bar>
  );
}

/** What an answer asks for before it is told; its form is kept like all that is typed. */
function Asked(props: Given) {
  const { floor, work, sheet, fill, fault, busy, onAnswer } = props;
  const w = floorWords.value;
  const { fields } = sheet;
  const { open } = fields;
  const form = useInSight<HTMLElement>(open);
  if (open === "") return null;
  return (
    <>
      <section ref={form} class="asked stack" {...testid(`form-${open}`)}>
        <h2>
          <Sign of={open} /> {w.forms[open]}
        </h2>
        {open === "rejected" && <p class="caution">{w.rejected_mark}</p>}
        {open === "rejected" && (
          <>
            <Reasons
              station={floor.station}
              findings={fields.findings}
              value={fields.reason}
              fault={fault === "reason" ? w.missing.reason : null}
              onValue={(reason) => fill({ reason })}
            />
            <fieldset class="choice">
              <legend>{w.cause_title}</legend>
              <div class="keys">
                {CAUSES.map((cause) => (
                  <button
                    key={cause}
                    type="button"
                    class="button"
                    aria-pressed={fields.cause === cause}
                    onClick={() => fill({ cause })}
                    {...testid(`cause-${cause}`)}
                  >
                    {w.causes[cause]}
                  </button>
                ))}
              </div>
            </fieldset>
            {fields.findings.length === 0 && <p class="asks">{w.reject_no_place}</p>}
          </>
        )}
        {open === "repair" && (
          <fieldset class="choice">
            <legend>{w.again_title}</legend>
            <div class="keys">
              {backTo(floor.station, floor.order).map((code) => (
                <button
                  key={code}
                  type="button"
                  class="button"
                  aria-pressed={fields.again_at === code}
                  onClick={() => fill({ again_at: fields.again_at === code ? "" : code })}
                  {...testid(`again-${code}`)}
                >
                  {stationName(code, floor.route, spoken.value)}
                </button>
              ))}
            </div>
            <Reworks floor={floor} work={work} />
          </fieldset>
        )}
        <NoteAndPhoto
          sheet={sheet}
          fill={fill}
          must={open === "hold" || open === "released"}
          fault={fault === "note" ? w.missing.note : null}
          busy={busy}
          onBusy={props.onBusy}
        />
      </section>
      <Bar>
        <p role="alert" class={fault === null ? "" : "fault"} {...testid("answer-fault")}>
          {fault === null ? "" : w.missing[fault]}
        </p>
        <div class="answers">
          <button
            type="button"
            class="button answer next"
            disabled={busy}
            onClick={() => onAnswer(open)}
            {...testid("answer-confirm")}
          >
            <Sign of={open} />
            <span>{open === "repair" ? w.answers.rework : w.answers[open]}</span>
          </button>
          <button
            type="button"
            class="button answer-small"
            onClick={() => fill({ open: "", releases: "" })}
            {...testid("answer-back")}
          >
            {w.leave_it}
          </button>
        </div>
      </Bar>
    </>
  );
}

/** How often it was worked again, against the plant's own limit. */
function Reworks({ floor, work }: { floor: Floor; work: Work }) {
  const w = floorWords.value;
  const limit = floor.route?.rework_limit ?? null;
  if (limit === null) return <p class="soft">{w.reworks_no_limit(work.reworks)}</p>;
  const beyond = work.reworks + 1 > limit;
  return <p class={beyond ? "fault" : "soft"}>{w.reworks_of(work.reworks, limit)}</p>;
}
