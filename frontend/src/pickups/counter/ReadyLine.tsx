/** One casing that is ready for its owner, to be ticked; a rejected one with its caution. */
import { shown } from "../../domain/labels";
import { type Casing, dueOn } from "../../domain/rows";
import { isRejected } from "../../domain/truck";
import { usePhone } from "../context";
import { testid } from "../testids";
import { dayInWords } from "../words";
import { ownerOf } from "./rack";
import { reasonInWords } from "../said";
import { counterWords } from "./words";

export function ReadyLine(props: {
  casing: Casing;
  ticked: boolean;
  /** It is told, and only to be signed for: no tick takes that back. */
  told: boolean;
  foreign: boolean;
  onTick: (on: boolean) => void;
}) {
  const { casing, ticked, told, foreign } = props;
  const now = usePhone().now.value;
  const w = counterWords.value;
  const rejected = isRejected(casing);
  const on = dueOn(casing);
  const doubtful = casing.on_hold || casing.standing === "in_question";
  return (
    <li class={rejected ? "is-rejected" : ""}>
      <label class="tick-line">
        <input
          type="checkbox"
          checked={ticked}
          disabled={told}
          onChange={(event) => props.onTick((event.target as HTMLInputElement).checked)}
          {...testid(`ready-${casing.label}`)}
        />
        <span>
          <b class="code">{shown(casing.label)}</b> {casing.size}{" "}
          {(rejected || !doubtful) && (
            <span class={rejected ? "fault" : "good"}>
              {rejected ? w.rejected_why(reasonInWords(casing.reason)) : w.finished}
            </span>
          )}
          {on !== null && <span class="soft"> · {w.promised_for(dayInWords(on))}</span>}
          {told && <span class="soft"> · {w.hand_over_told}</span>}
          {casing.on_hold && <span class="asks"> {w.on_hold}</span>}
          {casing.standing === "in_question" && <span class="asks"> {w.in_question}</span>}
          {foreign && <span class="asks"> {w.foreign_line(ownerOf(casing, now.yards).name)}</span>}
        </span>
      </label>
      {rejected && (
        <p class="caution rejected">
          {w.rejected_caution}. {w.rejected_tag}
        </p>
      )}
    </li>
  );
}
