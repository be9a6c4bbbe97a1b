/**
 * The condition of a casing: one line where nothing was seen; else the drawn section, on which a
 * place is tapped and then a kind, and the list of what was noted.
 *
 *   <ConditionFieldset key={sheet.id} fields={fields} fill={fill} keepPhoto={keepPhoto} />
 *
 * The key makes it a new one with the next sheet. What is noted lives in `fields.findings` alone.
 */
import { useState } from "preact/hooks";
import { cautionsOf, isStop, KINDS_BY_ZONE } from "../../domain/condition";
import type { Finding } from "../../domain/operation";
import { testid } from "../testids";
import { decimal, words } from "../words";
import { Cautions } from "./Cautions";
import { FindingDetail } from "./FindingDetail";
import {
  changed,
  found,
  findingSaid,
  MOST_FINDINGS,
  placeSaid,
  putBack,
  withOne,
  without,
} from "./findings";
import { Section } from "./Section";
import type { Place } from "./section";
import type { FillSeen, SeenFields } from "./seen";

export interface ConditionProps {
  fields: Pick<SeenFields, "findings">;
  fill: FillSeen;
  /** Keeps a photo with the casing's own and answers its hash; null where no more fit. */
  keepPhoto: ((file: File) => Promise<string>) | null;
}

export function ConditionFieldset({ fields, fill, keepPhoto }: ConditionProps) {
  const w = words.value;
  const { findings } = fields;
  const [open, setOpen] = useState(false);
  const [place, setPlace] = useState<Place | null>(null);
  const [at, setAt] = useState<number | null>(null);
  const [off, setOff] = useState<{ one: Finding; at: number } | null>(null);
  // While a photo is being made small, no finding changes its place: it is known by it.
  const [developing, setDeveloping] = useState(false);
  const full = findings.length >= MOST_FINDINGS;
  const detail = at === null ? undefined : findings[at];

  function note(kind: Finding["kind"]) {
    if (place === null || full) return;
    const one = found(place, kind);
    // Two taps may come before the first is drawn.
    fill((latest) => ({ findings: withOne(latest.findings, one) }));
    setPlace(null);
    setOff(null);
    setAt(findings.length);
  }

  async function develop(file: File, keep: (file: File) => Promise<string>): Promise<string> {
    setDeveloping(true);
    try {
      return await keep(file);
    } finally {
      setDeveloping(false);
    }
  }

  function takeOff(which: number) {
    const one = findings[which];
    if (one === undefined) return;
    fill((latest) => ({ findings: without(latest.findings, which) }));
    setOff({ one, at: which });
    setAt(null);
  }

  return (
    <section class="seen-part" aria-label={w.condition} {...testid("condition")}>
      <div class="row">
        <span class="title" {...testid("condition-said")}>
          {findings.length === 0 ? w.condition_none : w.condition_some(findings.length)}
        </span>
        <button
          type="button"
          class="button"
          aria-expanded={open}
          aria-label={`${w.condition}: ${openWord()}`}
          onClick={() => setOpen(!open)}
          {...testid("condition-open")}
        >
          {openWord()}
        </button>
      </div>
      {open && (
        <>
          <p class="soft">{full ? w.condition_full : w.condition_where}</p>
          <Section
            findings={findings}
            place={place}
            onPlace={(next) => {
              setPlace(next);
              setAt(null);
            }}
          />
        </>
      )}
      {open && place !== null && !full && (
        <fieldset class="kinds" {...testid("kinds")}>
          <legend>{w.condition_what(placeSaid(place, w))}</legend>
          {KINDS_BY_ZONE[place.zone].map((kind) => (
            <button
              key={kind}
              type="button"
              class={isStop(kind) ? "button stops" : "button"}
              onClick={() => note(kind)}
              {...testid(`kind-${kind}`)}
            >
              {w.kinds[kind]}
              {isStop(kind) && <span class="soft">{w.kind_stops}</span>}
            </button>
          ))}
        </fieldset>
      )}
      <Cautions
        findings={findings}
        aside={detail !== undefined && cautionsOf([detail]).length === 0}
      />
      {open && at !== null && detail !== undefined && (
        <FindingDetail
          key={at}
          number={at + 1}
          finding={detail}
          keepPhoto={keepPhoto === null ? null : (file) => develop(file, keepPhoto)}
          developing={developing}
          onChange={(some) => fill((latest) => ({ findings: changed(latest.findings, at, some) }))}
          onPhoto={(sha) =>
            fill((latest) => ({
              findings: changed(latest.findings, at, {
                photos: [...(latest.findings[at]?.photos ?? []).filter((one) => one !== sha), sha],
              }),
            }))
          }
          onDone={() => setAt(null)}
          onTakeOff={() => takeOff(at)}
        />
      )}
      {findings.length > 0 && (
        <ol class="lines noted" aria-label={w.condition_list} {...testid("noted")}>
          {findings.map((one, i) => (
            <li key={`${i} ${one.kind}`} data-stop={isStop(one.kind)}>
              <span class="number" aria-hidden="true">
                {i + 1}
              </span>
              <span class="what">
                {findingSaid(one, w, decimal)}
                {one.photos.length > 0 && ` · ${w.photos(one.photos.length)}`}
              </span>
              {open && at !== i && (
                <>
                  <button
                    type="button"
                    class="button change"
                    aria-label={`${w.condition_change}: ${findingSaid(one, w, decimal)}`}
                    onClick={() => {
                      setAt(i);
                      setOff(null);
                      setPlace(null);
                    }}
                    {...testid(`noted-change-${i + 1}`)}
                  >
                    {w.condition_change}
                  </button>
                  <button
                    type="button"
                    class="button"
                    aria-label={`${w.condition_off}: ${findingSaid(one, w, decimal)}`}
                    disabled={developing}
                    onClick={() => takeOff(i)}
                    {...testid(`noted-off-${i + 1}`)}
                  >
                    ✕
                  </button>
                </>
              )}
            </li>
          ))}
        </ol>
      )}
      <div role="status" class={off === null ? "" : "row"}>
        {off !== null && (
          <>
            <span>{w.condition_taken_off(findingSaid(off.one, w, decimal))}</span>
            <button
              type="button"
              class="button"
              disabled={developing}
              onClick={() => {
                fill((latest) => ({ findings: putBack(latest.findings, off.one, off.at) }));
                setOff(null);
              }}
              {...testid("noted-back")}
            >
              {w.condition_back}
            </button>
          </>
        )}
      </div>
    </section>
  );

  function openWord(): string {
    if (open) return w.condition_done;
    return findings.length === 0 ? w.condition_note : w.condition_open;
  }
}
