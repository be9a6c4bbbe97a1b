/** The cure load that a casing is answered with here: one of those that are open. */
import { testid } from "../../pickups/testids";
import { type Floor, remember } from "../floor";
import { openLoads } from "../loads";
import type { Load } from "../rows";
import { floorWords } from "../words";

export function LoadPart({
  floor,
  load,
  lacks,
}: {
  floor: Floor;
  load: Load | null;
  lacks: boolean;
}) {
  const w = floorWords.value;
  const { station, phone } = floor;
  const set = (uid: string) =>
    void remember(phone, (now) => ({ loads: { ...now.loads, [station]: uid } }));
  return (
    <fieldset class="choice" id="load" tabIndex={-1}>
      <legend>{w.load_which}</legend>
      <div class="keys">
        {openLoads(floor.loads, station).map(({ uid, number, chamber }) => (
          <button
            key={uid}
            type="button"
            class="button"
            aria-pressed={load?.uid === uid}
            onClick={() => set(uid)}
            {...testid(`choose-load-${number}`)}
          >
            {[w.load_named(number), chamber && w.in_chamber(chamber)].filter(Boolean).join(" · ")}
          </button>
        ))}
      </div>
      {lacks && <p class="fault">{w.missing.load}</p>}
    </fieldset>
  );
}
