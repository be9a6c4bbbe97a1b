/** A tap too early: the last word of this tablet about a load, told again without its time. */
import { useState } from "preact/hooks";
import { testid } from "../../pickups/testids";
import { when } from "../../pickups/words";
import type { Floor } from "../floor";
import { takesBack } from "../loads";
import type { Load } from "../rows";
import { floorWords } from "../words";
import { tellLoad } from "./telling";

export function TakeBack({ floor, load }: { floor: Floor; load: Load }) {
  const w = floorWords.value;
  const [open, setOpen] = useState(false);
  const [busy, setBusy] = useState(false);
  const [fault, setFault] = useState("");
  const back = takesBack(load, floor.phone.now.value.floor.told);
  if (back === null) return null;

  async function tell() {
    if (busy || back === null) return;
    setBusy(true);
    try {
      await tellLoad(floor, back);
      setOpen(false);
    } catch {
      setFault(w.not_kept);
    } finally {
      setBusy(false);
    }
  }
  if (!open)
    return (
      <button
        type="button"
        class="button"
        onClick={() => setOpen(true)}
        {...testid("load-take-back")}
      >
        {w.take_back}
      </button>
    );
  return (
    <fieldset class="why stack">
      <legend>
        {load.ended_at === ""
          ? w.load_back_began(when(load.started_at))
          : w.load_back_ended(when(load.ended_at))}
      </legend>
      <p role="alert" class={fault === "" ? "" : "fault"}>
        {fault}
      </p>
      <div class="keys">
        <button
          type="button"
          class="button"
          disabled={busy}
          onClick={() => void tell()}
          {...testid("load-back-now")}
        >
          {w.take_back}
        </button>
        <button
          type="button"
          class="button"
          onClick={() => setOpen(false)}
          {...testid("load-back-not")}
        >
          {w.leave_it}
        </button>
      </div>
    </fieldset>
  );
}
