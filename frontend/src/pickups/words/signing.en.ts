/** Signing for what changed hands, in English. */
import { counted } from "../plural";

const casings = (n: number) => counted(n, "casing", "casings");

export const signing = {
  sign_title: "To be signed",
  sign_list: (n: number) => `This list: ${casings(n)}`,
  sign_all_on: (day: string) => `All promised for ${day}`,
  sign_latest: (day: string) => `All together by ${day}`,
  sign_some_open: (n: number) => `${n} without a promised day`,
  sign_none_promised: "No day promised",
  sign_hand_over: "Hand the phone over: the list is theirs to read, and to sign.",
  sign_name: "Name of who signs",
  sign_name_hint: "In print",
  sign_name_missing: "Write the name of who signs, or say why nobody can.",
  sign_pad: "Signature",
  sign_pad_aside: "With a finger, a pen or a mouse; the name alone is enough.",
  sign_pad_hint: "Draw here",
  sign_pad_kept: "Signature kept",
  sign_pad_short: "A line, not a dot",
  sign_pad_failed:
    "This phone could not keep the drawing. Draw it again, or leave it: the name alone is enough.",
  sign_clear: "Clear the drawing",
  sign_again: "The list is another one now. It has to be signed again.",
  sign_has_read: (name: string) => `${name} has read this list`,
  sign_nobody: "Nobody can sign",
  sign_somebody: "Somebody signs after all",
  sign_why: "Why does nobody sign?",
  sign_reasons: ["Nobody is here", "They do not want to sign", "Nobody here may sign"],
  sign_why_missing: "Say why nobody signs; the reason is kept.",
  signed_by: (name: string) => `Signed by ${name}`,
  unsigned_because: (why: string) => `Not signed: ${why}`,
  receipt_at: (store: string) => `at the counter of ${store}`,
  receipt_hand_back: "Hand the phone back to the driver.",
};
