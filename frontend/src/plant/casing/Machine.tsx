/** Which of several machines works here: chosen once, told with each casing. */
import { testid } from "../../pickups/testids";
import { type Floor, remember } from "../floor";
import { floorWords } from "../words";

export function Machine({ floor, machines }: { floor: Floor; machines: string[] }) {
  const w = floorWords.value;
  const { station, kept, phone } = floor;
  const set = (machine: string) =>
    void remember(phone, (now) => ({ machines: { ...now.machines, [station]: machine } }));
  return (
    <fieldset class="choice">
      <legend>{w.machine}</legend>
      <div class="keys">
        {machines.map((code) => (
          <button
            key={code}
            type="button"
            class="button"
            aria-pressed={kept.machines[station] === code}
            onClick={() => set(kept.machines[station] === code ? "" : code)}
            {...testid(`machine-${code}`)}
          >
            {code}
          </button>
        ))}
      </div>
    </fieldset>
  );
}
