/**
 * A photo made small and kept with its sheet. Where the device runs short it is made smaller, and
 * what the server has answered is forgotten, before anybody is told that there is no room.
 */
import type { Signal } from "@preact/signals";
import { firstRung, SMALLEST } from "../domain/room";
import { type Warning, warned } from "../domain/warned";
import type { Camera } from "../ports/camera";
import { estimate, isFull } from "../ports/room";
import type { Deps } from "../sync/exchange";
import { dropAnswered } from "../sync/tight";

/** Not even the smallest photo could be kept. */
export class NoRoom extends Error {}

/** Returns what was kept; throws NoRoom, or the camera's fault where the file is no picture. */
export async function takePhoto(
  phone: { deps: Deps; camera: Camera; tight: Signal<Warning[]> },
  file: Blob,
  keep: (photo: Blob) => Promise<void>,
): Promise<Blob> {
  let from = firstRung(await estimate());
  if (from > 0) await dropAnswered(phone.deps);
  for (;;) {
    const { blob, rung } = await phone.camera.develop(file, from);
    try {
      await keep(blob);
      if (from > 0) phone.tight.value = warned(phone.tight.value, "smaller");
      return blob;
    } catch (no) {
      if (!isFull(no)) throw no;
    }
    if (rung === SMALLEST) throw new NoRoom();
    if (rung === 0) await dropAnswered(phone.deps);
    from = rung + 1;
  }
}
