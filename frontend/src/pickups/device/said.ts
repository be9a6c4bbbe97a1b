/** What the screen about this device says of amounts, and what its file is called. Pure. */

const MB = 1024 * 1024;

/** An amount of bytes in MB or GB, in the reader's numerals. */
export function bytesSaid(bytes: number, decimal: (value: number) => string): string {
  if (bytes < 0.1 * MB) return `${decimal(0.1)} MB`;
  return bytes < 1000 * MB ? `${decimal(bytes / MB)} MB` : `${decimal(bytes / MB / 1024)} GB`;
}

/** A name that says whose file it is and of when, in signs that every system takes. */
export function fileName(device: string, at: string): string {
  const whose = device
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .replace(/[^A-Za-z0-9]+/g, "-")
    .replace(/^-|-$/g, "");
  const when = at.slice(0, 16).replace(/[:T]/g, "-");
  return `unsent-${whose || "device"}-${when}.jwe`;
}
