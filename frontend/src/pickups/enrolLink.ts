/** The link that the office's square holds: /app/#enrol=CODE. */

/** The code in the part of an address after #, or null where it is no such link. */
export function codeInLink(hash: string): string | null {
  const found = /^#enrol=([^&]+)/.exec(hash);
  if (found === null) return null;
  try {
    return decodeURIComponent(found[1]!).trim() || null;
  } catch {
    return null; // cut in the middle of an escape
  }
}
