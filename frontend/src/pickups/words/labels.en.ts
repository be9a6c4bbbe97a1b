/** A label replaced by another, and what is odd about one that was read, in English. */
import type { Slip } from "../../domain/labels";

const SLIPS: Record<Slip, string> = {
  two_swapped: "two symbols were swapped",
  one_wrong: "one symbol was another",
  one_missing: "one symbol is missing",
  one_too_many: "one symbol is too many",
};

export const labels = {
  label_meant: (label: string, slip: Slip) => `Perhaps ${label}: ${SLIPS[slip]}.`,
  label_meant_some: (labels: string) => `Perhaps ${labels}.`,
  label_void: (old: string, now: string) => `${old} is void: ${now} is in its place.`,
  label_spoiled: (label: string) => `${label} is void: it was found damaged. Take another label.`,
  label_foreign: (range: string) =>
    `We have printed no labels that begin with ${range}: another dealer's, perhaps. The office will ask.`,
  relabel: "Label lost or spoiled",
  relabel_which: "Which casing?",
  relabel_find: "Label, TIN or size",
  relabel_none: "No casing here that fits.",
  relabel_say: (label: string) =>
    `The casing that wore ${label} gets a new label. ${label} will be void.`,
  relabel_why: "What happened to it?",
  relabel_why_missing: "Say what happened to the old label: lost or spoiled.",
  relabel_lost: "Lost",
  relabel_spoiled: "Spoiled: torn, burned, painted over",
  relabel_now: "New label",
  relabel_now_hint: "Stick it on first, then scan or type it",
  relabel_same: "That is the old label. Stick a new one on.",
  relabel_worn: (label: string, where: string) =>
    `${label} is on another casing already: ${where}. Look at the label that you stuck on this one.`,
  relabel_known_by: "How do you know that it is this casing?",
  relabel_known_by_missing: "Say how you know that it is this casing.",
  relabel_known_bys: ["Its TIN", "The label on its other side", "The only one of its size here"],
  relabel_do: "Replace the label",
  relabel_anyway: "Replace it all the same",
  relabel_done: (old: string, now: string) => `${now} is in the place of ${old}. ${old} is void.`,
};
