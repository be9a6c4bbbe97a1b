/**
 * Entering on a device that is nearly full. Nothing is refused as long as a few kilobytes are
 * there: first what the server has answered and shown is forgotten, then photos are made smaller,
 * then they are left out and that is said. Where even that fails, the caller's sheet keeps all.
 */
import { forgettable } from "../domain/forgettable";
import { withPhotos } from "../domain/hashes";
import type { Envelope } from "../domain/operation";
import { SMALLEST } from "../domain/room";
import type { Camera } from "../ports/camera";
import { isFull } from "../ports/room";
import { drafts } from "../store/local";
import { told as toldHere } from "../store/outbox";
import type { Entry, Photo } from "../store/outbox.schema";
import { marks } from "../store/replica";
import { forgetSent } from "../store/sent";
import { type Entered, enterOperation } from "./entering";
import type { Deps } from "./exchange";
import { seen } from "./overlay";

/** How its photos came through: as they were, made smaller, or not at all. */
export type Came = "whole" | "smaller" | "without_photos";

/**
 * Forgets what was answered, is seen in what the server shows and no screen reads any more, though
 * it would be kept 30 days to be told again after a restore; says how many that were.
 */
export async function dropAnswered({ store, clock }: Deps): Promise<number> {
  const now = await marks(store.replica);
  const { entries, sent } = await toldHere(store.outbox);
  const read = (one: Entry) => ({
    operation: JSON.parse(one.body) as Envelope,
    entered_at: one.entered_at,
  });
  const keys = (await drafts(store.local)).map(({ key }) => key);
  const ids = forgettable(
    sent.filter((one) => seen(one, now)).map(read),
    [...sent, ...entries].map((one) => read(one).operation),
    { now: clock.now(), counting: keys.some((key) => /^(un)?load:/.test(key)) },
  );
  try {
    await forgetSent(store.outbox, ids);
  } catch (no) {
    if (isFull(no)) return 0; // so full that not even this can be noted
    throw no;
  }
  return ids.length;
}

export async function enterTight(deps: Deps, camera: Camera, told: Entered): Promise<Came> {
  const fits = async (photos: Photo[], telling = told.telling): Promise<boolean> => {
    try {
      await enterOperation(deps, { ...told, telling, photos });
      return true;
    } catch (no) {
      if (isFull(no)) return false;
      throw no;
    }
  };
  if (await fits(told.photos)) return "whole";
  if ((await dropAnswered(deps)) > 0 && (await fits(told.photos))) return "whole";

  // A signature is small already, and what was signed stands under its hash.
  const { signature } = told.telling.payload as { signature?: string };
  const signed = told.photos.filter((photo) => photo.sha256 === signature);
  const photos = told.photos.filter((photo) => photo.sha256 !== signature);
  if (photos.length > 0) {
    const smaller = await Promise.all(
      photos.map(async ({ blob }) => {
        const small = await camera.develop(blob, SMALLEST);
        return { sha256: await camera.hash(small.blob), blob: small.blob };
      }),
    );
    const names = new Map(photos.map(({ sha256 }, i) => [sha256, smaller[i]!.sha256]));
    if (await fits([...signed, ...smaller], withPhotos(told.telling, names))) return "smaller";
    const gone = new Map(photos.map(({ sha256 }) => [sha256, null]));
    if (await fits(signed, withPhotos(told.telling, gone))) return "without_photos";
  }
  // Once more as it is: the fault that the sheet is told of is the disk's own.
  await enterOperation(deps, { ...told, photos: told.photos });
  return "whole";
}
