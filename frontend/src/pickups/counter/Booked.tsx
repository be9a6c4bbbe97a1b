/** What is booked in on a drop-off: each casing with its day, to be corrected or printed again. */
import { shown } from "../../domain/labels";
import { type Casing, tinOf, type VisitLine } from "../../domain/rows";
import { usePhone } from "../context";
import { go } from "../route";
import { findingSaid } from "../seen/findings";
import { testid } from "../testids";
import { decimal, when, words } from "../words";
import { depthsSaid } from "../yard/treads";
import { dueSaid } from "./kinds";
import { Lines, type TakeAfterAll } from "./Lines";
import { print } from "./printing";
import { stock } from "./stock";
import { putAway } from "../yard/putAway";
import { counterWords } from "./words";

export function Booked(props: {
  id: string;
  casings: Casing[];
  lines: VisitLine[];
  /** A casing is half entered. */
  begun: boolean;
  onTake: TakeAfterAll;
}) {
  const { id, casings, lines } = props;
  const phone = usePhone();
  const w = counterWords.value;
  return (
    <section>
      <h2>{w.list}</h2>
      {casings.length + lines.length === 0 && <p class="soft">{w.list_none}</p>}
      <ol class="lines booked" {...testid("booked")}>
        {casings.map((casing, i) => (
          <li
            key={casing.id}
            class="arrives"
            data-standing={casing.standing}
            data-id={casing.id}
            {...testid(`casing-${casing.label}`)}
          >
            <BookedLine casing={casing} number={i + 1} />
          </li>
        ))}
      </ol>
      <Lines lines={lines} begun={props.begun} onTake={props.onTake} />
      {casings.length + lines.length === 0 && !props.begun && (
        <button
          type="button"
          class="button plain"
          onClick={() => void putAway(phone, id).then(() => go())}
          {...testid("put-away")}
        >
          {w.put_away}
        </button>
      )}
    </section>
  );
}

function BookedLine({ casing, number }: { casing: Casing; number: number }) {
  const phone = usePhone();
  const w = counterWords.value;
  const all = words.value;
  const owed = stock.value.unprinted.includes(casing.label);
  const treads = depthsSaid(casing.treads_32nds);
  const tin = [tinOf(casing), casing.tins.length > 1 ? all.tins_more(casing.tins.length - 1) : ""];
  const what = [treads, ...tin].filter(Boolean).join(" · ");
  const seen = casing.findings.map((one) => findingSaid(one, all, decimal)).join("; ");
  const standing = {
    waiting: all.waiting_since(when(casing.waiting_since ?? 0)),
    recorded: all.recorded,
    in_question: all.in_question,
    needs_you: all.needs_you,
  }[casing.standing];
  const tone = { waiting: "soft", recorded: "good", in_question: "asks", needs_you: "fault" };
  return (
    <>
      <span class="number" aria-hidden="true">
        {number}
      </span>
      <span>
        <b class="code">{shown(casing.label)}</b>{" "}
        {[casing.brand, casing.size].filter(Boolean).join(" ")}
        <br />
        {what !== "" && (
          <>
            <span class="soft">{what}</span>
            <br />
          </>
        )}
        {seen !== "" && (
          <>
            <span class="asks">{seen}</span>
            <br />
          </>
        )}
        {dueSaid(casing)}
        <br />
        <span class={tone[casing.standing]}>{standing}</span>
        {owed && <span class="asks"> {w.not_printed}</span>}
      </span>
      <span class="do">
        <button
          type="button"
          class="button plain"
          onClick={() => go("pickup", casing.pickup, "casing", casing.id)}
          aria-label={w.correct(shown(casing.label))}
          {...testid(`correct-${casing.label}`)}
        >
          {all.correct}
        </button>
        <button
          type="button"
          class="button plain"
          onClick={() => void print(phone, [casing.label])}
          aria-label={w.print(shown(casing.label))}
          {...testid(`print-${casing.label}`)}
        >
          {owed ? w.print_key : w.print_again}
        </button>
      </span>
    </>
  );
}
