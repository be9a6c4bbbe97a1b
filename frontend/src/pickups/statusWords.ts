/** What the line at the bottom says of a phone on which nothing waits, or that is shut. */
import type { Shut } from "../store/local";
import type { Words } from "./words.en";

export function nothingSaid(
  now: { heard: boolean; photos: number; needsYou: number; reach: string },
  w: Words,
): string {
  // That all is recorded is the server's word: without it nothing more is claimed than is known.
  const told = now.reach === "reached" || now.reach === "idle";
  const all = told && now.heard && now.photos === 0 && now.needsYou === 0;
  return all ? w.all_recorded : w.nothing_waits;
}

/** `left`: what is still on the phone, entries and photos, refused ones too. */
export function shutSaid(shut: Shut, left: number, w: Words): { text: string; good: boolean } {
  if (shut === "device_closing" && left === 0) return { text: w.closing_done, good: true };
  const said = {
    device_revoked: w.revoked,
    device_unknown: w.unknown_device,
    device_closing: w.closing,
  };
  return { text: said[shut], good: false };
}
