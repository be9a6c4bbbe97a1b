/**
 * The key of a receipt, made on the device when a visit ends, and the address that it opens. Pure.
 *
 * 128 random bits in Crockford's base 32: 26 signs that a QR holds in its short alphabet. The
 * server keeps only their SHA-256; who has them may read this one receipt, for 30 days.
 */
const SIGNS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
const LENGTH = 26;
export const KEY_BYTES = 16;

/** The key of these 16 random bytes. */
export function receiptKey(bytes: Uint8Array): string {
  let value = bytes.reduce((sum, byte) => sum * 256n + BigInt(byte), 0n);
  let key = "";
  for (let i = 0; i < LENGTH; i++, value >>= 5n) key = SIGNS[Number(value & 31n)] + key;
  return key;
}

export const newReceiptKey = (): string =>
  receiptKey(crypto.getRandomValues(new Uint8Array(KEY_BYTES)));

/** Where it opens, in capitals as far as hosts do not mind; the server reads the path as it is. */
export const receiptAddress = (origin: string, key: string): string =>
  `${origin.toUpperCase()}/R/${key}`;
