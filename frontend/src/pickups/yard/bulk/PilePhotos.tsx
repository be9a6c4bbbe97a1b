/** The pile before and after, where nobody of the customer's is there: at least one photo of each. */
import { useState } from "preact/hooks";
import { NoRoom, takePhoto } from "../../../bridge/takePhoto";
import { usePhone } from "../../context";
import { testid } from "../../testids";
import { words } from "../../words";
import type { Sheet } from "../draft";
import { Thumbnail } from "../Photos";
import { onSide, PILE_MOST, type PileFault, type PileFields, pileOf } from "./pile";

type PileSheet = Pick<Sheet<PileFields>, "fields" | "fill" | "photos" | "addPhoto" | "dropPhoto">;

export function PilePhotos(props: {
  sheet: PileSheet;
  fault: PileFault | null;
  onFault: (fault: PileFault | null) => void;
  onBusy: (busy: boolean) => void;
}) {
  const w = words.value;
  return (
    <>
      <Group {...props} which="before" title={w.pile_before} />
      <Group {...props} which="after" title={w.pile_after} />
    </>
  );
}

function Group(props: {
  sheet: PileSheet;
  which: keyof PileFields;
  title: string;
  fault: PileFault | null;
  onFault: (fault: PileFault | null) => void;
  onBusy: (busy: boolean) => void;
}) {
  const { sheet, which, title, onFault, onBusy } = props;
  const phone = usePhone();
  const w = words.value;
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState<"photo_no_room" | "photo_failed" | null>(null);
  const taken = pileOf(sheet, which);
  const id = `pile-${which}` as const;
  const fault = props.fault?.at === id ? props.fault.said : failed === null ? null : w[failed];

  async function take(input: HTMLInputElement) {
    const file = input.files?.[0];
    input.value = "";
    if (file === undefined) return;
    const working = (now: boolean) => {
      setBusy(now);
      onBusy(now);
    };
    setFailed(null);
    onFault(null);
    working(true);
    try {
      await takePhoto(phone, file, async (blob) => {
        const sha256 = await phone.camera.hash(blob);
        // Its side first: whatever is cut off here, no photo is kept that is told of neither side.
        await sheet.fill((latest) => onSide(latest, which, sha256));
        await sheet.addPhoto(blob);
      });
    } catch (no) {
      setFailed(no instanceof NoRoom ? "photo_no_room" : "photo_failed");
    } finally {
      working(false);
    }
  }

  async function drop(sha256: string) {
    await sheet.dropPhoto(sha256);
    sheet.fill((latest) => ({ [which]: latest[which].filter((one) => one !== sha256) }));
  }

  return (
    <fieldset class="field">
      <legend class="title">{title}</legend>
      <ul class="photos">
        {taken.map((photo, i) => (
          <li key={photo.sha256}>
            <Thumbnail photo={photo} alt={w.pile_alt(title, i + 1)} />
            <button
              type="button"
              class="button"
              aria-label={w.pile_drop(title, i + 1)}
              onClick={() => void drop(photo.sha256)}
            >
              ✕
            </button>
          </li>
        ))}
      </ul>
      <label class="button file">
        {busy ? w.photo_busy : w.pile_add(title)}
        <input
          id={id}
          type="file"
          accept="image/*"
          capture="environment"
          disabled={busy || taken.length >= PILE_MOST}
          aria-describedby={`${id}-said`}
          onChange={(event) => void take(event.target as HTMLInputElement)}
          {...testid(id)}
        />
      </label>
      <p id={`${id}-said`} role="alert" class={fault === null ? "" : "fault"}>
        {fault ?? ""}
      </p>
    </fieldset>
  );
}
