/** Photos of what is seen on a casing, at a counter: kept beside its sheet while there is room. */
import { usePhone } from "../context";
import type { Sheet } from "../yard/draft";
import { MOST_PHOTOS } from "../yard/fields";
import type { EntryFields } from "./entry";

/** Null: as many as can be told are there. `onBusy`: one is being made small; nothing is saved. */
export function useKeepPhoto(
  { fields, photos, addPhoto }: Sheet<EntryFields>,
  onBusy: (busy: boolean) => void,
): ((file: File) => Promise<string>) | null {
  const { camera } = usePhone();
  if (fields.photos.length + photos.length >= MOST_PHOTOS) return null;
  return async (file) => {
    onBusy(true);
    try {
      const blob = await camera.develop(file);
      await addPhoto(blob);
      return await camera.hash(blob);
    } finally {
      onBusy(false);
    }
  };
}
