/**
 * Entering on a device that is nearly full. Nothing is refused as long as a few kilobytes are
 * there: first what the server has answered and shown is forgotten, then photos are made smaller,
 * then they are left out and that is said. Where even that fails, the caller's sheet keeps all.
 */
import { forgettable } from "../domain/forgettable";
import { withPhotos } from "../domain/hashes";
import type { Envelope, Telling } from "../domain/operation";
import { SMALLEST } from "../domain/room";
import type { Came } from "../domain/warned";
import type { Camera } from "../ports/camera";
import { isFull } from "../ports/room";
import { leaveOut, takeBack } from "../store/leftOut";
import { drafts } from "../store/local";
import { told as toldHere } from "../store/outbox";
import type { Entry, Photo } from "../store/outbox.schema";
import { marks } from "../store/replica";
import { forgetSent } from "../store/sent";
import { type Entered, enterOperation } from "./entering";
import type { Deps } from "./exchange";
import { seen } from "./overlay";

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
    for (let rung = 1; rung <= SMALLEST; rung++) {
      const smaller = await madeSmaller(camera, photos, rung);
      if (smaller === null) break;
      const names = new Map(photos.map(({ sha256 }, i) => [sha256, smaller[i]!.photo.sha256]));
      const all = [...signed, ...smaller.map(({ photo }) => photo)];
      if (await fits(all, withPhotos(told.telling, names))) return "smaller";
      rung = Math.max(rung, ...smaller.map((one) => one.rung)); // the sizes between are no smaller
    }
    const came = await enterWithout(deps, told, photos, (telling) => fits(signed, telling));
    if (came !== null) return came;
  }
  // Once more as it is: the fault that the sheet is told of is the disk's own.
  await enterOperation(deps, { ...told, photos: told.photos });
  return "whole";
}

/** Null where one of them cannot be made smaller: it is no picture that this browser reads. */
async function madeSmaller(
  camera: Camera,
  photos: Photo[],
  from: number,
): Promise<{ photo: Photo; rung: number }[] | null> {
  const made: { photo: Photo; rung: number }[] = [];
  try {
    for (const { blob } of photos) {
      const small = await camera.develop(blob, from);
      const sha256 = await camera.hash(small.blob);
      made.push({ photo: { sha256, blob: small.blob }, rung: small.rung });
    }
    return made;
  } catch {
    return null;
  }
}

/** The sheet's copies stay on the disk and are sent later; a photo that has none is not told. */
async function enterWithout(
  { store }: Deps,
  told: Entered,
  photos: Photo[],
  fits: (telling: Telling) => Promise<boolean>,
): Promise<Came | null> {
  const hashes = photos.map(({ sha256 }) => sha256);
  let kept = new Set<string>();
  try {
    kept = await leaveOut(store.local, told.id, hashes);
  } catch (no) {
    if (!isFull(no)) throw no;
  }
  const gone = hashes.filter((sha256) => !kept.has(sha256));
  const telling = withPhotos(told.telling, new Map(gone.map((sha256) => [sha256, null])));
  if (await fits(telling)) return gone.length === 0 ? "later" : "without_photos";
  if (kept.size > 0) await takeBack(store.local, told.id);
  return null;
}
