/** Scrap and what stays with its customer, on a drop-off: each with its way back. */
import { useState } from "preact/hooks";
import { leaveHere } from "../../domain/operation";
import type { VisitLine } from "../../domain/rows";
import { usePhone } from "../context";
import { lineSaid, lineTitle } from "../seen/visitLines";
import { testid } from "../testids";
import { numerals, when, words } from "../words";
import { leftAgain } from "../yard/leaving";
import { ScrapForm } from "./Scrap";
import { counterWords } from "./words";

/** Begins the sheet of what is taken after all, and tells that it is. */
export type TakeAfterAll = (line: VisitLine, tell: () => Promise<unknown>) => Promise<void>;

interface Props {
  /** A casing is half entered: no other is begun over it. */
  begun: boolean;
  onTake: TakeAfterAll;
}

export function Lines(props: Props & { lines: VisitLine[] }) {
  if (props.lines.length === 0) return null;
  return (
    <ul class="lines booked others" {...testid("booked-lines")}>
      {props.lines.map((line) => (
        <li
          key={line.id}
          class="arrives"
          data-standing={line.standing}
          {...testid(`${line.kind}-line`)}
        >
          <Line line={line} begun={props.begun} onTake={props.onTake} />
        </li>
      ))}
    </ul>
  );
}

function Line({ line, begun, onTake }: Props & { line: VisitLine }) {
  const phone = usePhone();
  const w = words.value;
  const [open, setOpen] = useState(false);
  const [failed, setFailed] = useState(false);
  const [asked, setAsked] = useState(false);
  const [busy, setBusy] = useState(false);
  const [id] = useState(() => phone.deps.ids.next());
  const scrap = line.kind === "scrap";

  async function takeAfterAll() {
    setAsked(true);
    if (begun || busy) return;
    setBusy(true);
    setFailed(false);
    try {
      const told = leftAgain(line, { note: line.note, photos: line.photos, taken: true });
      await onTake(line, () => phone.enter({ id, telling: leaveHere(told) }));
    } catch {
      setFailed(true);
      setBusy(false);
    }
  }

  return (
    <>
      <span class="number" aria-hidden="true">
        {scrap ? "×" : "–"}
      </span>
      <span>
        <b>{lineTitle(line, w)}</b>
        <br />
        <span class="soft">{lineSaid(line, w, numerals)}</span>
        <br />
        <span class={TONE[line.standing]}>
          {line.standing === "waiting"
            ? w.waiting_since(when(line.waiting_since ?? 0))
            : w[line.standing]}
        </span>
        {failed && <span class="fault"> {w.save_failed}</span>}
        {asked && begun && !busy && (
          <span role="alert" class="fault" {...testid("left-another")}>
            {" "}
            {counterWords.value.taken_first}
          </span>
        )}
      </span>
      <span class="do">
        <button
          type="button"
          class="button plain"
          aria-expanded={scrap ? open : undefined}
          aria-label={`${lineTitle(line, w)}: ${scrap ? w.correct : w.left_taken}`}
          disabled={phone.now.value.shut !== null}
          onClick={() => (scrap ? setOpen(!open) : void takeAfterAll())}
          {...testid(scrap ? "scrap-correct" : "left-taken")}
        >
          {scrap ? w.correct : w.left_taken}
        </button>
      </span>
      {open && (
        <div class="whole">
          <ScrapForm
            pickup={line.pickup}
            yard={line.yard}
            line={line}
            onDone={() => setOpen(false)}
          />
        </div>
      )}
    </>
  );
}

const TONE = { waiting: "soft", recorded: "good", in_question: "asks", needs_you: "fault" };
