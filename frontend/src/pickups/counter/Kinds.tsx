/** What kind of thing it is: all in sight on a line, chosen by its letter or by the arrow keys. */
import { useRef } from "preact/hooks";
import type { Line } from "../../domain/operation";
import { LINES } from "../seen/seen";
import { testid } from "../testids";
import { FASTEST_HAND_MS } from "../wedge";
import { words } from "../words";
import { counterWords } from "./words";

const idOf = (line: Line): string => `line-${line}`;

export function Kinds({ line, onLine }: { line: Line; onLine: (line: Line) => void }) {
  const w = counterWords.value;
  const all = words.value;
  const last = useRef({ at: Number.NEGATIVE_INFINITY, line });

  function onKeyDown(event: KeyboardEvent) {
    if (event.key.length !== 1 || event.ctrlKey || event.metaKey || event.altKey) return;
    const fast = event.timeStamp - last.current.at <= FASTEST_HAND_MS;
    if (!fast) last.current.line = line;
    last.current.at = event.timeStamp;
    // A scanner's label begins with a letter too: what that chose is what it was before.
    const letter = event.key.toUpperCase();
    const chosen = fast ? last.current.line : LINES.find((one) => w.kind_keys[one] === letter);
    if (chosen === undefined || chosen === line) return;
    onLine(chosen);
    document.getElementById(idOf(chosen))?.focus();
  }

  return (
    <fieldset class="kinds-row" onKeyDown={onKeyDown}>
      <legend class="hidden">{all.line_kind}</legend>
      {LINES.map((one) => (
        <label key={one} class="kind">
          <input
            id={idOf(one)}
            type="radio"
            name="line"
            value={one}
            checked={one === line}
            onChange={() => onLine(one)}
            {...testid(idOf(one))}
          />
          <span>
            {w.kinds_short[one]} <kbd>{w.kind_keys[one]}</kbd>
          </span>
        </label>
      ))}
    </fieldset>
  );
}
