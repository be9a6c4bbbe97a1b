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
  sign_why: "Why will they not sign?",
  sign_why_missing: "Say why they will not sign; the reason is kept.",
  signed_by: (name: string) => `Signed by ${name}`,
  unsigned_because: (why: string) => `Not signed: ${why}`,
  receipt_at: (store: string) => `at the counter of ${store}`,
  receipt_hand_back: "Hand the phone back to the driver.",
  read_in: "Read it in",
  sign_how: "Signing",
  sign_nobody_words: "Anything to add",
  sign_why_words: "In their words",
  sign_nobody_say: "The list goes unsigned. The customer is sent it, with the photos.",
  sign_refused_missing: "Choose why they will not sign; the reason is kept.",
  receipt_scan: "Receipt on their own phone",
  receipt_scan_say:
    "Scan the square with its camera. The page is there once this phone has sent; it opens for 30 days, also as a PDF.",
  unsigned_nobody: "Not signed: nobody was there.",
  sign_endings: {
    signs: "Signs",
    refuses: "Will not sign",
    nobody: "Nobody is here",
  },
  sign_refusals: {
    count: "Disputes the count",
    condition: "Disputes the condition",
    authority: "May not sign",
    other: "Something else",
  },
  unsigned_refused: {
    count: "They would not sign: they dispute the count.",
    condition: "They would not sign: they dispute the condition.",
    authority: "They would not sign: nobody there may sign.",
    other: "They would not sign.",
  },
};
