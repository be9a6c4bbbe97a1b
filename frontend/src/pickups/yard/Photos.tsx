/** Photos of the casing: made small at once, kept with the half-filled sheet until it is saved. */
import { useEffect, useState } from "preact/hooks";
import type { DraftPhoto } from "../../store/local";
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";
import type { Sheet } from "./draft";
import type { CasingFields } from "./fields";

export function Photos({ sheet }: { sheet: Sheet<CasingFields> }) {
  const phone = usePhone();
  const w = words.value;
  const [state, setState] = useState<"ready" | "busy" | "failed">("ready");

  async function take(input: HTMLInputElement) {
    const file = input.files?.[0];
    input.value = "";
    if (file === undefined) return;
    setState("busy");
    try {
      await sheet.addPhoto(await phone.camera.develop(file));
      setState("ready");
    } catch {
      setState("failed");
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
        {state === "busy" ? w.photo_busy : w.photo_add}
        <input
          type="file"
          accept="image/*"
          capture="environment"
          disabled={state === "busy" || before + sheet.photos.length >= 12}
          onChange={(event) => void take(event.target as HTMLInputElement)}
          {...testid("photo")}
        />
      </label>
      <p role="alert" class={state === "failed" ? "fault" : ""}>
        {state === "failed" ? w.photo_failed : ""}
      </p>
    </div>
  );
}

function Thumbnail({ photo, alt }: { photo: DraftPhoto; alt: string }) {
  const [url, setUrl] = useState("");
  useEffect(() => {
    const made = URL.createObjectURL(photo.blob);
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [photo.sha256]);
  return url === "" ? null : <img src={url} alt={alt} width="96" height="96" />;
}
