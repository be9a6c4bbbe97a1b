/** The casings of a pickup: label, treads, the strokes with their word, and how it stands. */
import { shown } from "../../domain/labels";
import { dayOf } from "../../domain/promise";
import { type Casing, depthsOf, dueOn, tinOf } from "../../domain/rows";
import { Strokes } from "../../ui/Strokes";
import { usePhone } from "../context";
import { notedSaid } from "../seen/findings";
import { asksWork, hasTire, LINES } from "../seen/seen";
import type { SignedLine } from "../signing/signing";
import { testid } from "../testids";
import { wantedOf, wantedSaid } from "../wanted/wanted";
import { dayInWords, decimal, when, words } from "../words";
import { tinShort } from "./tinWords";
import { depthsSaid } from "./treads";

export function CasingList(props: {
  casings: Casing[];
  onOpen: ((casing: Casing) => void) | null;
}) {
  const w = words.value;
  const { casings, onOpen } = props;
  // What nobody can open any more says all of it.
  const inFull = onOpen === null;
  const { now, deps } = usePhone();
  const { clock } = deps;
  const { photosHere } = now.value;
  return (
    <ol class="lines">
      {casings.map((casing, i) => (
        <li
          key={casing.id}
          class="casing arrives"
          data-standing={casing.standing}
          data-id={casing.id}
          {...testid(`casing-${casing.label}`)}
        >
          <span class="number" aria-hidden="true">
            {i + 1}
          </span>
          <span class="what">
            <b class="code">{shown(casing.label)}</b>
            <br />
            {hasTire(casing.line) && treads(casing)}
            {sidewall(casing)}
            {casing.photos.length > 0 && ` · ${photosSaid(casing, photosHere)}`}
          </span>
          {tinOf(casing) !== "" && (
            <span class="tin">
              {tinShort(tinOf(casing), dayOf(clock.now()), w)}
              {casing.tins.length > 1 && ` · ${w.tins_more(casing.tins.length - 1)}`}
            </span>
          )}
          {casing.work !== "" && <span class="wants">{wants(casing)}</span>}
          {seen(casing, inFull) !== "" && <span class="wants">{seen(casing, inFull)}</span>}
          {inFull && stops(casing) !== "" && <span class="wants stops-said">{stops(casing)}</span>}
          <span class="stands">
            <Strokes
              stage={casing.progress}
              held={casing.on_hold}
              inQuestion={casing.standing === "in_question"}
            />
            <span>
              {casing.on_hold ? w.on_hold : (w.stages[casing.progress] ?? casing.progress)}
              <br />
              <Standing of={casing} question={w.in_question} />
            </span>
          </span>
          {onOpen !== null && (
            <button
              type="button"
              class="button plain"
              onClick={() => onOpen(casing)}
              aria-label={`${w.correct} ${shown(casing.label)}`}
              {...testid(`correct-${casing.label}`)}
            >
              {w.correct}
            </button>
          )}
        </li>
      ))}
    </ol>
  );
}

/** How a line stands with the office; `question` says it where one is open. */
export function Standing(props: {
  of: Pick<Casing, "standing" | "waiting_since">;
  question: string;
}) {
  const w = words.value;
  switch (props.of.standing) {
    case "waiting":
      return <span class="soft">{w.waiting_since(when(props.of.waiting_since ?? 0))}</span>;
    case "recorded":
      return <span class="good">{w.recorded}</span>;
    case "in_question":
      return <span class="asks">{props.question}</span>;
    case "needs_you":
      return <span class="fault">{w.needs_you}</span>;
  }
}

/** How many photos there are, and how many of them the office does not have yet. */
export function photosSaid({ photos }: Pick<Casing, "photos">, here: ReadonlySet<string>): string {
  const w = words.value;
  const toSend = photos.filter((sha256) => here.has(sha256)).length;
  return w.photos(photos.length) + (toSend > 0 ? `, ${w.photos_to_send(toSend)}` : "");
}

/** The readings with their unit, or that there are none. */
export function treads(casing: Casing): string {
  if (depthsOf(casing).length === 0) return words.value.tread_none;
  return `${depthsSaid(casing.treads_32nds)} /32`;
}

/** Size, brand and where it ran, as far as they are told. */
function sidewall({ size, brand, position }: Casing): string {
  const ran = Object.entries(words.value.positions).find(([key]) => key === position)?.[1] ?? "";
  return [size, brand, ran.toLowerCase()].map((said) => said && ` · ${said}`).join("");
}

/** What is wanted for it and for when, in one line; a day agreed by hand is said to be one. */
function wants(casing: Casing): string {
  const w = words.value;
  const kind = kindSaid(casing);
  if (!asksWork(casing.line)) return kind;
  const { promised } = casing;
  const said = [kind, wantedSaid(wantedOf(casing), w)].filter((one) => one !== "").join(" · ");
  if (promised === null) return `${said} · ${w.promised_no_day}`;
  const due = dueOn(casing) ?? promised.on;
  if (due !== promised.on)
    return `${said} · ${w.promised_anew(dayInWords(due), dayInWords(promised.on))}`;
  const on = `${said} · ${w.promised_short(dayInWords(due))}`;
  return promised.basis === "by_hand" ? `${on}, ${w.promised_hand}` : on;
}

/** The kind of thing, where it is more than a casing with work wanted. */
export function kindSaid({ line }: Casing): string {
  const { lines } = words.value;
  const known = LINES.find((one) => one === line);
  return known === undefined || known === "retread" || known === "repair" ? "" : lines[known];
}

/**
 * What is signed of a casing: its label and day. Beside them, for the eye, the kind of thing, size,
 * treads, TIN and what was noted; what stops it stands apart with its caution.
 */
export function signedLine(casing: Casing, today: string): SignedLine {
  const w = words.value;
  const { noted, stop } = notedSaid(casing.findings, w, decimal);
  const said = [
    kindSaid(casing),
    casing.size,
    hasTire(casing.line) ? treads(casing) : "",
    tinShort(tinOf(casing), today, w),
    noted,
  ];
  const beside = said.filter((one) => one !== "").join(" · ");
  return { label: casing.label, on: casing.promised?.on ?? "", said: beside, stop };
}

const stops = ({ findings }: Casing): string => notedSaid(findings, words.value, decimal).stop;

/** What was noted, or only that something was, and why it was taken all the same. */
function seen({ findings, check }: Casing, inFull: boolean): string {
  const w = words.value;
  const overruled = check?.overruled ?? "";
  const some = findings.length > 0 ? w.condition_some(findings.length) : "";
  return [
    inFull ? notedSaid(findings, w, decimal).noted : some,
    overruled !== "" ? w.spec_overruled(overruled) : "",
  ]
    .filter((one) => one !== "")
    .join(" · ");
}
