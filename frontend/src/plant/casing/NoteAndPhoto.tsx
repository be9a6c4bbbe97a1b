/** A note and photos of the casing as a whole, beside an answer that gives a reason. */
import { useState } from "preact/hooks";
import { NoRoom, takePhoto } from "../../bridge/takePhoto";
import { usePhone } from "../../pickups/context";
import { testid } from "../../pickups/testids";
import { words } from "../../pickups/words";
import type { Sheet } from "../../pickups/yard/draft";
import { MOST_PHOTOS } from "../../pickups/yard/fields";
import { Thumbnail } from "../../pickups/yard/Photos";
import { Field } from "../../ui/Field";
import { type AnswerFields, NOTE_MOST } from "../answer";
import { floorWords } from "../words";

export function NoteAndPhoto(props: {
  sheet: Sheet<AnswerFields>;
  fill: (some: Partial<AnswerFields>) => void;
  /** A reason has to be given. */
  must: boolean;
  fault: string | null;
  busy: boolean;
  onBusy: (begins: boolean) => void;
}) {
  const { sheet, fill, must } = props;
  const w = words.value;
  const fw = floorWords.value;
  const phone = usePhone();
  const [failed, setFailed] = useState("");
  async function take(input: HTMLInputElement) {
    const file = input.files?.[0];
    input.value = "";
    if (file === undefined) return;
    setFailed("");
    props.onBusy(true);
    try {
      await takePhoto(phone, file, sheet.addPhoto);
    } catch (no) {
      setFailed(no instanceof NoRoom ? w.photo_no_room : w.photo_failed);
    } finally {
      props.onBusy(false);
    }
  }
  return (
    <>
      <Field
        id="note"
        title={must ? fw.note_why : fw.note_more}
        fault={props.fault}
        rows={2}
        value={sheet.fields.note}
        onValue={(note) => fill({ note })}
        input={{ ...testid("note"), maxLength: NOTE_MOST.why }}
      />
      <ul class="photos">
        {sheet.photos.map((photo, i) => (
          <li key={photo.sha256}>
            <Thumbnail photo={photo} alt={w.photo_alt(i + 1)} />
            <button
              type="button"
              class="button"
              aria-label={w.photo_drop(i + 1)}
              onClick={() => {
                void sheet.dropPhoto(photo.sha256);
                fill({
                  findings: sheet.fields.findings.map((one) => ({
                    ...one,
                    photos: one.photos.filter((sha256) => sha256 !== photo.sha256),
                  })),
                });
              }}
            >
              ✕
            </button>
          </li>
        ))}
      </ul>
      <label class="button file">
        {props.busy ? w.photo_busy : w.photo_add}
        <input
          type="file"
          accept="image/*"
          capture="environment"
          disabled={props.busy || sheet.photos.length >= MOST_PHOTOS}
          onChange={(event) => void take(event.target as HTMLInputElement)}
          {...testid("photo")}
        />
      </label>
      <p role="alert" class={failed === "" ? "hidden" : "fault"}>
        {failed}
      </p>
    </>
  );
}
