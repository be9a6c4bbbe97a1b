/** The driver's word that the truck stands at a stop; a wrong one is taken back where it stands. */
import type { Run } from "../../domain/rows";
import type { StopNow } from "../../domain/run";
import { arrive, resume } from "../../domain/runTelling";
import { usePhone } from "../context";
import { Unsaved } from "../Unsaved";
import { testid } from "../testids";
import { when, words } from "../words";
import { useOnce } from "./once";
import { tellOfStop } from "./road";

export function Arrival({ run, stop, undo }: { run: Run; stop: StopNow; undo?: boolean }) {
  const phone = usePhone();
  const w = words.value;
  const { run: once, failed } = useOnce();
  const { uid, arrived_at } = stop.stop;
  const open = stop.state === "next" || stop.state === "later";
  if (phone.now.value.shut !== null) return null;
  if (arrived_at === null)
    return open ? (
      <>
        <Unsaved when={failed} />
        <button
          type="button"
          class="button wide"
          onClick={() => void once(() => tellOfStop(phone, arrive, run.id, uid))}
          {...testid("arrive")}
        >
          {w.day_arrive}
        </button>
      </>
    ) : null;
  return (
    <>
      <p role="status" {...testid("arrived")}>
        <b>{w.day_arrived(when(arrived_at))}</b>
      </p>
      <Unsaved when={failed} />
      {undo && open && (
        <button
          type="button"
          class="button plain"
          onClick={() => void once(() => tellOfStop(phone, resume, run.id, uid))}
          {...testid("not-arrived")}
        >
          {w.day_not_arrived}
        </button>
      )}
    </>
  );
}
