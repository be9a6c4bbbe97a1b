/**
 * A sheet that survives a kill: kept on the phone at every keystroke, dropped when it is saved or
 * empty again; where the phone is full, held by the page until there is room. It carries the id of
 * the operation to come; a sheet whose operation was entered just before a kill is recognised by it
 * and not offered again.
 */
import { useEffect, useRef, useState } from "preact/hooks";
import {
  type DraftPhoto,
  draft,
  draftPhotos,
  dropDraft,
  dropDraftPhoto,
  keepDraft,
  keepDraftPhoto,
} from "../../store/local";
import type { Telling } from "../../domain/operation";
import { isFull } from "../../ports/room";
import { held } from "../../store/held";
import { wasEntered } from "../../store/outbox";
import type { Photo } from "../../store/outbox.schema";
import { usePhone } from "../context";
import { readBack } from "./readBack";

type Filling<F> = Partial<F> | ((latest: F) => Partial<F>);

const filled = <F extends object>(fields: F, some: Filling<F>): F => ({
  ...fields,
  ...(typeof some === "function" ? some(fields) : some),
});

export interface Sheet<F> {
  ready: boolean;
  id: string;
  fields: F;
  photos: DraftPhoto[];
  /** Something differs from how the sheet began. */
  begun: boolean;
  /** A function is given what was filled in last, which the screen may not have drawn yet. Ends
   * when it is kept. */
  fill(some: Filling<F>): Promise<void>;
  addPhoto(blob: Blob): Promise<void>;
  dropPhoto(sha256: string): Promise<void>;
  /**
   * Entered under the sheet's id. The sheet is empty, has a new id and `kept` is called before a
   * screen shows what was entered: what is typed or scanned from then on is the next one's.
   */
  enter(telling: Telling, photos: Photo[], kept?: () => void): Promise<void>;
  /** Thrown away: an empty sheet with a new id. */
  clear(): Promise<void>;
}

export function useSheet<F extends object>(key: string, blank: F): Sheet<F> {
  const phone = usePhone();
  const { local, outbox } = phone.deps.store;
  const [state, show] = useState({
    id: "",
    fields: blank,
    photos: [] as DraftPhoto[],
    ready: false,
  });
  // Keystrokes may come faster than screens are drawn: the latest is held here.
  const latest = useRef(state);
  const early = useRef<Filling<F>[]>([]);
  const update = (next: typeof state) => {
    latest.current = next;
    show(next);
  };

  useEffect(() => {
    let here = true;
    early.current = [];
    if (latest.current.ready) update({ id: "", fields: blank, photos: [], ready: false });
    void (async () => {
      const kept = await draft(local, key);
      const stale = kept !== null && (await wasEntered(outbox, kept.id));
      if (stale) await dropDraft(local, key);
      const open = stale ? null : kept;
      const photos = open === null ? [] : await draftPhotos(local, key);
      if (!here) return;
      // What was filled in (by a scanner) before the sheet was read back is filled in over it.
      const told = early.current.splice(0);
      const before = open === null ? blank : readBack(blank, open.fields);
      const fields = told.reduce<F>(filled, before);
      update({ id: open?.id ?? phone.deps.ids.next(), fields, photos, ready: true });
      if (told.length > 0) void keep();
    })();
    return () => {
      here = false;
    };
  }, [key]);

  const differs = (fields: F, photos: DraftPhoto[]): boolean =>
    photos.length > 0 || JSON.stringify(fields) !== JSON.stringify(blank);

  async function keep(): Promise<void> {
    const { id, fields, photos } = latest.current;
    if (differs(fields, photos)) {
      const changed_at = phone.deps.clock.now();
      const now = { key, id, fields: fields as Record<string, unknown>, changed_at };
      await keepDraft(local, now).catch((no: unknown) => {
        if (!isFull(no)) throw no;
      });
    } else await dropDraft(local, key);
    // Others look again when a sheet begins or ends, or when it counts, not at every keystroke.
    const { drafts, unsaved } = phone.now.value;
    const known = drafts.some((one) => one.key === key);
    const other = unsaved !== held(local).size > 0;
    if (other || known !== differs(fields, photos) || "count" in fields) await phone.changed();
  }

  function renew(): Promise<void> {
    update({ id: phone.deps.ids.next(), fields: blank, photos: [], ready: true });
    // Begun here and now: what is kept of the next sheet is written after it.
    return dropDraft(local, key);
  }

  return {
    ...state,
    begun: differs(state.fields, state.photos),
    async fill(some) {
      update({ ...latest.current, fields: filled(latest.current.fields, some) });
      if (latest.current.ready) await keep();
      else early.current.push(some);
    },
    async addPhoto(blob) {
      const photo = { sha256: await phone.camera.hash(blob), draft: key, blob };
      await keepDraftPhoto(local, photo);
      const others = latest.current.photos.filter((one) => one.sha256 !== photo.sha256);
      update({ ...latest.current, photos: [...others, photo] });
      await keep();
    },
    async dropPhoto(sha256) {
      await dropDraftPhoto(local, key, sha256);
      const photos = latest.current.photos.filter((one) => one.sha256 !== sha256);
      update({ ...latest.current, photos });
      await keep();
    },
    async enter(telling, photos, kept) {
      let dropped = Promise.resolve();
      const anew = () => {
        dropped = renew();
        kept?.();
      };
      await phone.enter({ id: latest.current.id, telling, photos, kept: anew });
      await dropped;
      await phone.changed();
    },
    async clear() {
      await renew();
      await phone.changed();
    },
  };
}
