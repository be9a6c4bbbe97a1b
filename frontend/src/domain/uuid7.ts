/** UUIDv7 (RFC 9562, section 5.7) from a clock and ten random bytes. Pure. */

export function uuid7(unixMs: number, random: Uint8Array): string {
  const bytes = new Uint8Array(16);
  let rest = Math.max(0, Math.floor(unixMs));
  for (let i = 5; i >= 0; i--) {
    bytes[i] = rest % 256;
    rest = Math.floor(rest / 256);
  }
  bytes.set(random.subarray(0, 10), 6);
  bytes[6] = (bytes[6]! & 0x0f) | 0x70;
  bytes[8] = (bytes[8]! & 0x3f) | 0x80;
  const hex = [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}
