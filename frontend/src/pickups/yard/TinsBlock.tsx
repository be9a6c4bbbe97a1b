/**
 * All TINs of a casing: the first one typed, one more for each retread, whether it is the R's, the
 * decade where three digits leave it open, and what stands in place of a TIN.
 */
import { useLayoutEffect, useRef } from "preact/hooks";
import type { Finding, Tin } from "../../domain/operation";
import { read } from "../../domain/tin";
import { testid } from "../testids";
import { words } from "../words";
import type { CasingFields, FillCasing } from "./fields";
import { MILEAGE, MOST_TINS, oneMore, typedTin, untouched } from "./tinSlips";
import { TinField } from "./TinField";
import { YearKeys } from "./YearKeys";
import { noteOf } from "./yearNote";

const CUT_OFF: Finding = {
  zone: "sidewall",
  kind: "dot_removed",
  side: "",
  mm: null,
  count: 1,
  photos: [],
};

const at = (nth: number): string => (nth === 0 ? "tin" : `tin-${nth + 1}`);
const enter = (id: string) => document.getElementById(id)?.focus();

export function TinsBlock(props: {
  fields: CasingFields;
  fill: FillCasing;
  today: string;
  onNext: () => void;
}) {
  const { fields, fill, today } = props;
  const w = words.value;
  const tins: Tin[] = fields.tins.length > 0 ? fields.tins : [{ tin: "", made: "" }];
  const retell = (as: (before: Tin[]) => Tin[]) =>
    fill(({ tins: latest, note }) => {
      const after = untouched(as(latest));
      return { tins: after, note: noteOf(note, { before: latest, after }, today, w) };
    });
  const change = (nth: number, as: (before: Tin | undefined) => Tin) =>
    retell((latest) =>
      nth < latest.length ? latest.map((t, i) => (i === nth ? as(t) : t)) : [as(undefined)],
    );

  // The key that was pressed may be gone with the screen that it was on: the keys go to a field.
  const next = useRef<string | null>(null);
  useLayoutEffect(() => {
    if (next.current !== null) enter(next.current);
    next.current = null;
  }, [tins.length]);
  const add = () => {
    next.current = at(tins.length);
    fill((latest) => ({ tins: oneMore(latest.tins) }));
  };
  const drop = (nth: number) => {
    next.current = at(Math.max(0, nth - 1));
    retell((latest) => latest.filter((_, i) => i !== nth));
  };

  return (
    <div class="tins stack">
      {tins.map(({ tin, made }, nth) => {
        const several = tins.length > 1;
        const marks = (["new", "retread"] as const).map((kind) => (
          <button
            key={kind}
            type="button"
            class="button"
            aria-pressed={made === kind}
            onClick={() =>
              change(nth, (before) => ({
                tin: before?.tin ?? "",
                made: before?.made === kind ? "" : kind,
              }))
            }
            {...testid(`${at(nth)}-${kind}`)}
          >
            {kind === "new" ? w.tin_new : w.tin_r}
          </button>
        ));
        return (
          <div key={nth} class="one-tin">
            <TinField
              id={at(nth)}
              title={nth === 0 ? w.tin : w.tin_nth(nth + 1)}
              value={tin}
              today={today}
              onValue={(typed) => change(nth, (before) => typedTin(before, typed, today))}
              onNext={nth + 1 < tins.length ? () => enter(at(nth + 1)) : props.onNext}
            />
            <YearKeys
              reading={read(tin, today)}
              note={fields.note}
              onNote={(note) => fill({ note })}
            />
            {tin === "" && !several ? (
              <Instead fields={fields} fill={fill} onMileage={() => change(0, mileage)} />
            ) : (
              <fieldset class="small-keys">
                <legend class="hidden">{w.tin_made(nth + 1)}</legend>
                {marks}
                {several && (
                  <button
                    type="button"
                    class="button"
                    aria-label={w.tin_remove_named(nth + 1)}
                    onClick={() => drop(nth)}
                    {...testid(`${at(nth)}-remove`)}
                  >
                    {w.tin_remove}
                  </button>
                )}
                {nth + 1 === tins.length && tin !== "" && tins.length < MOST_TINS && (
                  <button
                    type="button"
                    class="button"
                    aria-label={w.tin_another_named}
                    onClick={add}
                    {...testid("tin-another")}
                  >
                    {w.tin_another}
                  </button>
                )}
              </fieldset>
            )}
          </div>
        );
      })}
    </div>
  );
}

const mileage = (before: Tin | undefined): Tin => ({ made: before?.made ?? "", tin: MILEAGE });

/** Where there is no TIN to type: what the sidewall says or shows instead. */
function Instead(props: { fields: CasingFields; fill: FillCasing; onMileage: () => void }) {
  const w = words.value;
  const cut = props.fields.findings.some(({ kind }) => kind === "dot_removed");
  return (
    <fieldset class="small-keys">
      <legend class="hidden">{w.tin_none}</legend>
      <button type="button" class="button" onClick={props.onMileage} {...testid("tin-mileage")}>
        {w.tin_mileage_key}
      </button>
      <button
        type="button"
        class="button"
        aria-pressed={cut}
        onClick={() =>
          props.fill(({ findings }) => ({
            findings: cut
              ? findings.filter(({ kind }) => kind !== "dot_removed")
              : [...findings, CUT_OFF],
          }))
        }
        {...testid("tin-cut-off")}
      >
        {w.tin_cut_off}
      </button>
      {cut && <p class="asks">{w.tin_cut_off_said}</p>}
    </fieldset>
  );
}
