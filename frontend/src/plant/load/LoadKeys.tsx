/** The chamber was closed and the cure began; it is over: each told once, with the time of now. */
import { useState } from "preact/hooks";
import { instant } from "../../domain/operation";
import { testid } from "../../pickups/testids";
import { Bar } from "../../ui/Bar";
import type { Floor } from "../floor";
import type { Load } from "../rows";
import { floorWords } from "../words";
import { tellLoad } from "./telling";

export function LoadKeys({ floor, load }: { floor: Floor; load: Load }) {
  const w = floorWords.value;
  const [busy, setBusy] = useState(false);
  const [fault, setFault] = useState("");
  const begun = load.started_at !== "";
  if (load.ended_at !== "" || (!begun && load.state !== "setting")) return null;

  async function press() {
    if (load.set_in.length === 0) return setFault(w.load_empty);
    if (busy) return;
    setBusy(true);
    const now = instant(floor.phone.deps.clock.now());
    try {
      await tellLoad(floor, {
        load: load.uid,
        number: load.number,
        started_at: begun ? load.started_at : now,
        ended_at: begun ? now : null,
      });
    } catch {
      setFault(w.not_kept);
    } finally {
      setBusy(false);
    }
  }
  return (
    <Bar>
      <p role="alert" class={fault === "" ? "" : "fault"}>
        {fault}
      </p>
      <button
        type="button"
        class="button primary"
        disabled={busy}
        onClick={() => void press()}
        {...testid(begun ? "cure-ends" : "cure-begins")}
      >
        {begun ? w.cure_ends : w.cure_begins}
      </button>
    </Bar>
  );
}
