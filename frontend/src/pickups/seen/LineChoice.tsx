/** What kind of thing it is: one line as long as it is the same as before; all kinds where asked. */
import { useState } from "preact/hooks";
import type { Line } from "../../domain/operation";
import { Choice } from "../../ui/Choice";
import { testid } from "../testids";
import { words } from "../words";
import { LINES } from "./seen";

export function LineChoice(props: {
  line: Line;
  /** It is that of the one before. */
  carried: boolean;
  onLine: (line: Line) => void;
}) {
  const { line, carried, onLine } = props;
  const w = words.value;
  const [open, setOpen] = useState(false);
  const key = open ? w.condition_done : w.line_change;
  return (
    <section class="seen-part" aria-label={w.line_kind}>
      <div class="row">
        <span {...testid("line-said")}>
          <b>{w.lines[line]}</b>
          {carried && <span class="soft"> · {w.line_carried}</span>}
        </span>
        <button
          type="button"
          class="button"
          aria-expanded={open}
          aria-label={`${w.line_kind}: ${key}`}
          onClick={() => setOpen(!open)}
          {...testid("line-change")}
        >
          {key}
        </button>
      </div>
      {open && (
        <Choice
          name="line"
          title={w.line_kind}
          values={LINES}
          names={w.lines}
          value={line}
          onValue={onLine}
        />
      )}
    </section>
  );
}
