/** Photos of what is seen on a casing, at a counter: kept beside its sheet while there is room. */
import { takePhoto } from "../../bridge/takePhoto";
import { usePhone } from "../context";
import type { Sheet } from "../yard/draft";
import { MOST_PHOTOS } from "../yard/fields";
import type { EntryFields } from "./entry";

/** Null: as many as can be told are there. `onBusy`: one is being made small; nothing is saved. */
export function useKeepPhoto(
  { fields, photos, addPhoto }: Sheet<EntryFields>,
  onBusy: (busy: boolean) => void,
): ((file: File) => Promise<string>) | null {
  const phone = usePhone();
  if (fields.photos.length + photos.length >= MOST_PHOTOS) return null;
  return async (file) => {
    onBusy(true);
    try {
      return await phone.camera.hash(await takePhoto(phone, file, addPhoto));
    } finally {
      onBusy(false);
    }
  };
}
