/** A driver's day between the stops, in English: the way there, arriving, skipping, counting. */
import { counted } from "../plural";

const casings = (n: number) => counted(n, "casing", "casings");

export const day = {
  day_way: "Way there",
  day_call: (name: string) => `Call ${name}`,
  day_call_gate: "Call",
  day_copy: "Copy the address",
  day_copied: "Copied",
  day_no_address: "No address is known. Ask the office for it.",

  day_arrive: "I am here",
  day_arrived: (when: string) => `Arrived ${when}`,
  day_not_arrived: "That was a mistake: not here yet",
  day_window_over: (to: string) => `The window ended at ${to}`,
  day_came_late: (to: string) => `after the window, which ended at ${to}`,
  day_added: "Not on the sheet: a stop of your own",
  day_added_why: (why: string) => `Not on the sheet: ${why}`,
  day_run_grows: "It becomes a stop of today's run, so that the office sees it.",
  day_why_here: "Why here?",
  day_why_here_hint: "For the office; may stay empty",

  day_skip: "Skip this stop",
  day_skip_say: "It stays on the run with your word beside it; the office sees it too.",
  day_skip_why: "Why?",
  day_skip_whys: {
    closed: "Gate closed",
    nobody_there: "Nobody there",
    refused: "They refuse",
    blocked: "No way in",
    no_room: "No room on the truck",
    no_time: "No time left",
    other: "Something else",
  } as Record<string, string>,
  day_skip_note: "Say more",
  day_skip_note_other: "What is it?",
  day_skip_why_missing: "Choose why; it stands beside the stop.",
  day_skip_note_missing: "Say what it is; “something else” alone tells the office nothing.",
  day_skip_do: "Skip it",
  day_skipped: (why: string) => `Skipped: ${why}`,
  day_stays_aboard: (n: number) => `${casings(n)} on your truck, back on the list`,
  day_resume: "Make this stop after all",

  day_count_title: (place: string) => `Load at ${place}`,
  day_count: "How many stand ready for you?",
  day_count_hint: "Count them before you scan; nothing here tells you how many",
  day_counted_scanned: (counted_: number, scanned: number) =>
    `You counted ${counted_} and scanned ${scanned}. Count again what is on the truck.`,
  day_loading: (counted_: number) => `you counted ${counted_}`,
  day_short_do:
    "Look on the rack and on the dock. What is not there stays off; the office is told.",
  day_drive_off_so: "Drive off so",
  day_over: (n: number, labels: string) => `${n} over, not on this sheet: ${labels}.`,
  day_over_do: (n: number) =>
    `Leave ${n === 1 ? "it" : "them"} here, or take ${n === 1 ? "it" : "them"} along and say so to the office.`,
  day_tag_before: (n: number) =>
    `${n} rejected: marked on the casing and tagged “REJECTED – do not mount or inflate – reason” before loading.`,

  day_tick: "Hand over",
  day_tick_of: (label: string) => `Hand over ${label} without a scan`,
  day_ticked: "Ticked on the list, not scanned",
  day_rejected: (n: number) => `Rejected, back as they came: ${n}`,
  day_rejected_say:
    "Each is tagged with its reason. Say so to whoever takes them: do not mount or inflate.",
  day_set_down: "Where did you set them down?",
  day_set_down_hint: "So that they find them: behind the shop, gate 2",
  day_set_down_missing: "Say where they stand; nobody saw you set them down.",
  day_set_down_said: (where: string) => `Set down: ${where}`,
  day_photo_missing: "Take a photo of them where they stand.",
  day_photo_proof: "A photo of them where they stand says more than words.",
};
