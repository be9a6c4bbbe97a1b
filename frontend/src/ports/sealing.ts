/**
 * A text that only a PIN opens: PBKDF2-HMAC-SHA256 (RFC 8018) makes the key, AES-GCM seals and
 * notices a wrong key. Knows no person and no token.
 */

/** OWASP Password Storage Cheat Sheet, "PBKDF2": 600,000 iterations with HMAC-SHA256. */
export const ITERATIONS = 600_000;
const SALT_BYTES = 16;
/** NIST SP 800-38D, section 8.2.2: a random 96-bit IV each time. */
const IV_BYTES = 12;

type Bytes = Uint8Array<ArrayBuffer>;

export interface Sealed {
  iv: Bytes;
  text: Bytes;
}

const random = (length: number): Bytes => crypto.getRandomValues(new Uint8Array(length));
const utf8 = (text: string): Bytes => new TextEncoder().encode(text) as Bytes;

export const newSalt = (): Bytes => random(SALT_BYTES);

/** The key that a PIN makes with this device's salt; it cannot be read out again. */
export async function keyOf(pin: string, salt: Bytes, iterations: number): Promise<CryptoKey> {
  const typed = await crypto.subtle.importKey("raw", utf8(pin), "PBKDF2", false, ["deriveKey"]);
  return await crypto.subtle.deriveKey(
    { name: "PBKDF2", hash: "SHA-256", salt, iterations },
    typed,
    { name: "AES-GCM", length: 256 },
    false,
    ["encrypt", "decrypt"],
  );
}

/** `about` is not hidden, but under another one the text does not open. */
export async function seal(key: CryptoKey, text: string, about: string): Promise<Sealed> {
  const iv = random(IV_BYTES);
  const how = { name: "AES-GCM", iv, additionalData: utf8(about) };
  return { iv, text: new Uint8Array(await crypto.subtle.encrypt(how, key, utf8(text))) };
}

/** Null where the key or what it is about is another one. */
export async function unseal(key: CryptoKey, of: Sealed, about: string): Promise<string | null> {
  const how = { name: "AES-GCM", iv: of.iv, additionalData: utf8(about) };
  try {
    return new TextDecoder().decode(await crypto.subtle.decrypt(how, key, of.text));
  } catch (cause) {
    if ((cause as Error).name === "OperationError") return null;
    throw cause;
  }
}
