/** The third tap: how large it is; the entered limit as a ruler. How many alike and a photo may wait. */
import { useState } from "preact/hooks";
import { NoRoom } from "../../bridge/takePhoto";
import { MOST_ALIKE } from "../../pickups/seen/findings";
import { LengthPart } from "../../pickups/seen/LengthPart";
import { Stepper } from "../../pickups/seen/Stepper";
import { testid } from "../../pickups/testids";
import { words } from "../../pickups/words";
import type { Find } from "../answer";
import { findSaid } from "../findings";
import type { Floor } from "../floor";
import { floorWords } from "../words";
import { useInSight } from "../inSight";
import { Ruler } from "./Ruler";

export function FindDetail(props: {
  number: number;
  find: Find;
  floor: Floor;
  /** Of the casing, as its order says it. */
  size: string;
  busy: boolean;
  full: boolean;
  onChange: (some: Partial<Find>) => void;
  onPhoto: (file: File) => Promise<void>;
  onDone: () => void;
  onOff: () => void;
}) {
  const { find, onChange } = props;
  const w = words.value;
  const fw = floorWords.value;
  const [failed, setFailed] = useState("");
  const ref = useInSight<HTMLFieldSetElement>(props.number);

  async function take(input: HTMLInputElement) {
    const file = input.files?.[0];
    input.value = "";
    if (file === undefined) return;
    setFailed("");
    try {
      await props.onPhoto(file);
    } catch (no) {
      setFailed(no instanceof NoRoom ? w.photo_no_room : w.photo_failed);
    }
  }

  return (
    <fieldset ref={ref} class="detail stack" {...testid("finding")}>
      <legend>
        {props.number}. {findSaid(find)}
      </legend>
      <LengthPart mm={find.size_mm} onMm={(size_mm) => onChange({ size_mm })}>
        <Ruler floor={props.floor} find={find} size={props.size} />
      </LengthPart>
      <Stepper
        name="finding-count"
        title={w.condition_count}
        value={find.count}
        least={1}
        most={MOST_ALIKE}
        fewer={w.condition_fewer}
        more={w.condition_more}
        onValue={(count) => onChange({ count })}
      />
      <label class="button file">
        {props.full ? fw.photos_full : props.busy ? w.photo_busy : w.condition_photo}
        {find.photos.length > 0 && ` · ${w.photos(find.photos.length)}`}
        <input
          type="file"
          accept="image/*"
          capture="environment"
          disabled={props.busy || props.full}
          onChange={(event) => void take(event.target as HTMLInputElement)}
          {...testid("finding-photo")}
        />
      </label>
      <p role="alert" class={failed === "" ? "hidden" : "fault"}>
        {failed}
      </p>
      <div class="row">
        <button
          type="button"
          class="button"
          disabled={props.busy}
          onClick={props.onOff}
          {...testid("finding-off")}
        >
          {w.condition_off}
        </button>
        <button type="button" class="button" onClick={props.onDone} {...testid("finding-done")}>
          {w.condition_done}
        </button>
      </div>
    </fieldset>
  );
}
