/** Tread depths by keys of 0 to 30 thirty-seconds; each press is a groove, the next comes by itself. */
import { DEEPEST_32NDS } from "../../domain/operation";
import { measure } from "../../domain/tread";
import { testid } from "../testids";
import { decimal, words } from "../words";
import { MOST_GROOVES } from "./fields";

const DEPTHS = Array.from({ length: DEEPEST_32NDS + 1 }, (_, depth) => depth);

export function TreadKeys(props: {
  readings: number[];
  onReading: (depth: number) => void;
  onErase: () => void;
}) {
  const { readings } = props;
  const w = words.value;
  const { lowest, mean } = measure([readings]);
  const full = readings.length >= MOST_GROOVES;
  return (
    <fieldset class="treads">
      <legend>{w.tread}</legend>
      <p class="readings" aria-live="polite" {...testid("tread-readings")}>
        {readings.length > 0 && <b class="code">{readings.join(" · ")}</b>}{" "}
        <span class="soft">{full ? w.tread_full : w.tread_next(readings.length + 1)}</span>
        {lowest !== null && mean !== null && readings.length > 1 && (
          <>
            <br />
            <span {...testid("tread-sum")}>{w.tread_sum(lowest, decimal(mean))}</span>
          </>
        )}
      </p>
      <div class="keys">
        {DEPTHS.map((depth) => (
          <button
            key={depth}
            type="button"
            class="key"
            disabled={full}
            aria-label={`${w.tread_groove(readings.length + 1)}: ${depth}`}
            onClick={() => props.onReading(depth)}
            {...testid(`tread-${depth}`)}
          >
            {depth}
          </button>
        ))}
        <button
          type="button"
          class="key erase"
          disabled={readings.length === 0}
          onClick={props.onErase}
          {...testid("tread-erase")}
        >
          {w.tread_erase}
        </button>
      </div>
    </fieldset>
  );
}
