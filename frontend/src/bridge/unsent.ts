/**
 * All that this device has not sent, as one file that only the server can open: JWE in its compact
 * form (RFC 7516), RSA-OAEP-256 and A256GCM, made by a library. Needs no network and no PIN, as
 * nobody can read it on the way. Nothing leaves the device's own store by being saved.
 *
 * Inside: one line of JSON (the server's wire.Saved), then the photos' bytes one after another.
 */
import { CompactEncrypt, importJWK } from "jose";
import { instant } from "../domain/operation";
import { setting } from "../store/local";
import { leftOutPhotos } from "../store/leftOut";
import { meta } from "../store/marks";
import { photo, told } from "../store/outbox";
import type { Deps } from "../sync/exchange";

export interface SavedFile {
  blob: Blob;
  entries: number;
  photos: number;
}

/** Null where this device was never told the server's key. */
export async function sealUnsent({ store, clock }: Deps): Promise<SavedFile | null> {
  const key = await setting(store.local, "export_key");
  const device = await meta(store.outbox, "device");
  if (key === null || device === null) return null;
  const { entries, photos: names } = await told(store.outbox);
  const photos: { sha256: string; bytes: number }[] = [];
  const pieces: Blob[] = [];
  for (const sha256 of names) {
    const blob = await photo(store.outbox, sha256);
    if (blob === null) continue; // sent meanwhile
    photos.push({ sha256, bytes: blob.size });
    pieces.push(blob);
  }
  for (const { sha256, blob } of await leftOutPhotos(store.local)) {
    if (photos.some((one) => one.sha256 === sha256)) continue;
    photos.push({ sha256, bytes: blob.size });
    pieces.push(blob);
  }
  const rest = {
    saved: 1,
    device,
    saved_at: instant(clock.now()),
    offset_ms: (await meta(store.outbox, "offset")) ?? 0,
    photos,
  };
  // Operations stand as the very strings that were entered.
  const bodies = entries.map((entry) => entry.body).join(",");
  const head = `${JSON.stringify(rest).slice(0, -1)},"operations":[${bodies}]}\n`;
  const plain = new Uint8Array(await new Blob([head, ...pieces]).arrayBuffer());
  const { kty, n, e, kid } = key;
  const sealed = await new CompactEncrypt(plain)
    .setProtectedHeader({ alg: "RSA-OAEP-256", enc: "A256GCM", kid })
    .encrypt(await importJWK({ kty, n, e }, "RSA-OAEP-256"));
  const blob = new Blob([sealed], { type: "application/jose" });
  return { blob, entries: entries.length, photos: photos.length };
}
