/** Photos of the casing: made small at once, kept with the half-filled sheet until it is saved. */
import { useEffect, useState } from "preact/hooks";
import { NoRoom, takePhoto } from "../../bridge/takePhoto";
import type { DraftPhoto } from "../../store/local";
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";
import type { Sheet } from "./draft";
import { type CasingFields, MOST_PHOTOS } from "./fields";

/** What is needed of a sheet; `fields.photos` are those that the casing has already. */
type PhotoSheet = Pick<
  Sheet<Pick<CasingFields, "photos">>,
  "id" | "fields" | "photos" | "addPhoto" | "dropPhoto"
>;

export function Photos(props: {
  sheet: PhotoSheet;
  /** One is being made small; saved meanwhile, it would come to the next casing. */
  busy: boolean;
  onBusy: (busy: boolean) => void;
}) {
  const { sheet, busy, onBusy } = props;
  const phone = usePhone();
  const w = words.value;
  const [failed, setFailed] = useState<"" | "photo_failed" | "photo_no_room">("");
  // What went wrong was about this casing, not about the next one.
  useEffect(() => setFailed(""), [sheet.id]);

  async function take(input: HTMLInputElement) {
    const file = input.files?.[0];
    input.value = "";
    if (file === undefined) return;
    setFailed("");
    onBusy(true);
    try {
      await takePhoto(phone, file, sheet.addPhoto);
    } catch (no) {
      setFailed(no instanceof NoRoom ? "photo_no_room" : "photo_failed");
    } finally {
      onBusy(false);
    }
  }

  const before = sheet.fields.photos.length;
  return (
    <div class="field">
      <span class="title">{w.photo}</span>
      {before > 0 && <p>{w.photos(before)}</p>}
      <ul class="photos">
        {sheet.photos.map((photo, i) => (
          <li key={photo.sha256}>
            <Thumbnail photo={photo} alt={w.photo_alt(i + 1)} />
            <button
              type="button"
              class="button"
              aria-label={w.photo_drop(i + 1)}
              onClick={() => void sheet.dropPhoto(photo.sha256)}
            >
              ✕
            </button>
          </li>
        ))}
      </ul>
      <label class="button file">
        {busy ? w.photo_busy : w.photo_add}
        <input
          type="file"
          accept="image/*"
          capture="environment"
          disabled={busy || before + sheet.photos.length >= MOST_PHOTOS}
          onChange={(event) => void take(event.target as HTMLInputElement)}
          {...testid("photo")}
        />
      </label>
      <p role="alert" class={failed === "" ? "" : "fault"} {...testid("photo-fault")}>
        {failed === "" ? "" : w[failed]}
      </p>
    </div>
  );
}

export function Thumbnail({ photo, alt }: { photo: DraftPhoto; alt: string }) {
  const [url, setUrl] = useState("");
  useEffect(() => {
    const made = URL.createObjectURL(photo.blob);
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [photo.sha256]);
  return url === "" ? null : <img src={url} alt={alt} width="96" height="96" />;
}
