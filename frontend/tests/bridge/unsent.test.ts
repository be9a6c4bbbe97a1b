/** The file of what is unsent: sealed to the server's key, everything in it, nothing gone here. */
import { compactDecrypt, exportJWK, generateKeyPair } from "jose";
import { describe, expect, it } from "vitest";
import { sealUnsent } from "../../src/bridge/unsent";
import { set } from "../../src/store/local";
import { put } from "../../src/store/marks";
import { refuse } from "../../src/store/outbox";
import { bytesSaid, fileName } from "../../src/pickups/device/said";
import { casing, rig } from "../sim/rig";

const DEVICE = "01960000-0000-7000-8000-0000000000d1";
const pair = await generateKeyPair("RSA-OAEP-256", { extractable: true });
const { n = "", e = "" } = await exportJWK(pair.publicKey);

async function enrolled() {
  const phone = await rig().phone();
  await set(phone.deps.store.local, "export_key", { kty: "RSA", n, e, kid: "the-key" });
  await put(phone.deps.store.outbox, "device", DEVICE);
  return phone;
}

describe("what is unsent, in a file", () => {
  it("holds every entry as it was entered and every photo whole, refused ones too", async () => {
    const phone = await enrolled();
    await put(phone.deps.store.outbox, "offset", -90_000);
    const photos = [
      { sha256: "b".repeat(64), blob: new Blob([new Uint8Array([0, 10, 255])]) },
      { sha256: "a".repeat(64), blob: new Blob(["second"]) },
    ];
    const first = await phone.pickUp(casing("K72K54X2"), undefined, photos);
    await phone.pickUp(casing("K72K6P0D"));
    const why = { at: 1, code: "malformed", field: null, value: null, allowed: null };
    await refuse(phone.deps.store.outbox, { id: first, ...why });
    const before = await phone.told();

    const file = await sealUnsent(phone.deps);
    expect(file).toMatchObject({ entries: 2, photos: 2 });
    const sealed = await compactDecrypt(await file!.blob.text(), pair.privateKey);
    expect(sealed.protectedHeader).toEqual({ alg: "RSA-OAEP-256", enc: "A256GCM", kid: "the-key" });
    const end = sealed.plaintext.indexOf(10);
    const head = JSON.parse(new TextDecoder().decode(sealed.plaintext.subarray(0, end)));
    expect(head).toMatchObject({ saved: 1, device: DEVICE, offset_ms: -90_000 });
    expect(head.operations).toEqual(before.entries.map(({ body }) => JSON.parse(body)));
    expect(head.photos).toEqual([
      { sha256: "a".repeat(64), bytes: 6 },
      { sha256: "b".repeat(64), bytes: 3 },
    ]);
    const rest = sealed.plaintext.subarray(end + 1);
    expect([...rest]).toEqual([...new TextEncoder().encode("second"), 0, 10, 255]);
    expect(await phone.told()).toEqual(before);
  });

  it("cannot be made without the server's key", async () => {
    const phone = await rig().phone();
    await phone.pickUp(casing());
    expect(await sealUnsent(phone.deps)).toBeNull();
  });

  it("has a name that says whose it is, in signs that every system takes", () => {
    expect(fileName("Camión 4 / José", "2026-04-28T17:05:09Z")).toBe(
      "unsent-Camion-4-Jose-2026-04-28-17-05.jwe",
    );
    expect(fileName("…", "2026-04-28T17:05:09Z")).toBe("unsent-device-2026-04-28-17-05.jwe");
  });

  it("says amounts in MB and GB", () => {
    const plain = (value: number) => value.toFixed(1);
    expect(bytesSaid(1, plain)).toBe("0.1 MB");
    expect(bytesSaid(5.25 * 1024 ** 2, plain)).toBe("5.3 MB");
    expect(bytesSaid(3 * 1024 ** 3, plain)).toBe("3.0 GB");
  });
});
