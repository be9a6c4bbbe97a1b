/** What more can be said of one finding: its length, how many alike, a photo. None of it must be. */
import { NoRoom } from "../../bridge/takePhoto";
import { useState } from "preact/hooks";
import type { Finding } from "../../domain/operation";
import { testid } from "../testids";
import { decimal, words } from "../words";
import { findingSaid, MOST_ALIKE, MOST_FINDING_PHOTOS } from "./findings";
import { LengthPart } from "./LengthPart";
import { Stepper } from "./Stepper";

export function FindingDetail(props: {
  number: number;
  finding: Finding;
  keepPhoto: ((file: File) => Promise<string>) | null;
  /** A photo of this finding or another is being made small. */
  developing: boolean;
  onChange: (some: Partial<Finding>) => void;
  onPhoto: (sha256: string) => void;
  onDone: () => void;
  onTakeOff: () => void;
}) {
  const { number, finding, onChange } = props;
  const w = words.value;

  return (
    <fieldset class="detail stack" {...testid("finding")}>
      <legend>
        {number}. {findingSaid(finding, w, decimal)}
      </legend>
      <LengthPart mm={finding.mm} onMm={(mm) => onChange({ mm })} />
      <Stepper
        name="finding-count"
        title={w.condition_count}
        value={finding.count}
        least={1}
        most={MOST_ALIKE}
        fewer={w.condition_fewer}
        more={w.condition_more}
        onValue={(count) => onChange({ count })}
      />
      <PhotoOf
        finding={finding}
        busy={props.developing}
        keepPhoto={props.keepPhoto}
        onPhoto={props.onPhoto}
      />
      <div class="row">
        <button
          type="button"
          class="button"
          disabled={props.developing}
          onClick={props.onTakeOff}
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

function PhotoOf(props: {
  finding: Finding;
  busy: boolean;
  keepPhoto: ((file: File) => Promise<string>) | null;
  onPhoto: (sha256: string) => void;
}) {
  const { finding, busy, keepPhoto, onPhoto } = props;
  const w = words.value;
  const [failed, setFailed] = useState<"" | "photo_failed" | "photo_no_room">("");
  const n = finding.photos.length;
  if (keepPhoto === null || n >= MOST_FINDING_PHOTOS)
    return <p class="soft">{w.condition_photo_full}</p>;

  async function take(input: HTMLInputElement) {
    const file = input.files?.[0];
    input.value = "";
    if (file === undefined || keepPhoto === null) return;
    setFailed("");
    try {
      onPhoto(await keepPhoto(file));
    } catch (no) {
      setFailed(no instanceof NoRoom ? "photo_no_room" : "photo_failed");
    }
  }

  return (
    <div class="field">
      <label class="button file">
        {busy ? w.photo_busy : w.condition_photo}
        {n > 0 && ` · ${w.photos(n)}`}
        <input
          type="file"
          accept="image/*"
          capture="environment"
          disabled={busy}
          onChange={(event) => void take(event.target as HTMLInputElement)}
          {...testid("finding-photo")}
        />
      </label>
      <p role="alert" class={failed === "" ? "" : "fault"}>
        {failed === "" ? "" : w[failed]}
      </p>
    </div>
  );
}
