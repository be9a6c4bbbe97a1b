/** What the driver reads, in English. Short, the trade's words; what happened and what to do. */
import { counted } from "./plural";
import { seen } from "./seen/words.en";
import { bulk } from "./words/bulk.en";
import { casing } from "./words/casing.en";
import { labels } from "./words/labels.en";
import { device } from "./words/device.en";
import { lock } from "./words/lock.en";
import { day } from "./words/day.en";
import { road } from "./words/road.en";
import { signing } from "./words/signing.en";
import { wanted } from "./words/wanted.en";

const casings = (n: number) => counted(n, "casing", "casings");

export const en = {
  ...wanted,
  ...signing,
  ...day,
  ...road,
  ...labels,
  ...lock,
  ...device,
  ...bulk,
  ...casing,
  ...seen,

  language: "Language",
  other_language: "Español",
  today: "Today",
  back: "Back",
  close: "Close",
  try_again: "Try again",
  to_counter: "Counter",
  to_road: "Road",
  counter_coming: "One moment",
  pickup_not_here:
    "The sheet of a pickup has not reached this device yet. It comes by itself with a connection.",
  counter_not_here:
    "The counter's screens have not reached this device yet. They come by themselves with a connection.",

  enrol_title: "Set up this phone",
  enrol_say:
    "The office shows a code for this phone. Type it here, or read its square with the camera.",
  enrol_code: "Code from the office",
  enrol_name: "Name of this phone",
  enrol_name_hint: "As the office will see it, for example Truck 4 phone",
  enrol_do: "Set up",
  enrol_busy: "Asking the office",
  enrol_code_missing: "Type the code that the office shows.",
  enrol_name_missing: "Give this phone a name.",
  enrol_no_signal: "No signal. Setting up needs it once; try again where there is some.",
  enrol_away: "The office's server does not answer. Try again in a minute.",
  enrol_code_wrong:
    "This code is not known, was used before, or is older than 15 minutes. Ask the office for a new one.",
  enrol_already: (name: string, site: string) =>
    `This phone is set up as ${name}, ${site}. A new code sets it up anew; nothing on it is lost.`,
  enrol_again: "Enrol again",

  who_none: "No names have arrived yet. They come by themselves as soon as there is signal.",

  open_pickups: "Open on this phone",
  start_title: "Start a pickup",
  start_search: "Find a yard or customer",
  start_none: "No yards have arrived yet. They come by themselves as soon as there is signal.",
  start_no_match: "No yard by that name.",
  recent_title: "Lately",
  recent_none: "Finished pickups will stand here.",
  carry_on: "Carry on",
  casings,
  customer_says: (n: number) => `customer says ${n}`,
  on_this_pickup: (n: number) => `${n} on this pickup`,
  finished_at: (when: string) => `finished ${when}`,
  not_finished: "not finished",
  unknown_yard: "Yard not known here yet",

  add_casing: "Add a casing",
  correct_casing: "Correct this casing",
  caution_air: "Run flat or soft? Never add air on the truck.",
  caution_lift: "About 50 kg: lift with help. Mind wire ends.",
  label: "Label",
  label_hint: "Eight symbols, typed or scanned",
  label_empty: "Type or scan the label.",
  label_length: (n: number) => `A label has 8 symbols; this has ${n}.`,
  label_symbol: (c: string) => `No label holds ${c}. Look again.`,
  label_first: "A label begins with a letter. This looks like another code.",
  label_check: "One symbol is wrong or two are swapped. Compare with the label.",
  label_sound: "Label reads well",
  label_twice: (where: string) => `This label is already on this phone: ${where}.`,
  label_twice_ask: "If two casings really carry it, save this one too; the office sorts it out.",
  label_here: (at: number) => `casing ${at} of this pickup`,
  label_elsewhere: (yard: string) => `a casing from ${yard}`,
  save_twice: "Save as a second casing",
  label_twice_correct:
    "If this casing really carries that label too, save the correction; the office sorts it out.",
  save_correction_twice: "Save the correction with this label",
  label_another: (label: string) =>
    `${label} was scanned, but this sheet has another label. Save this casing first, or clear the label to change it.`,
  scan: "Scan",
  scan_title: "Scan the label",
  scan_opening: "Opening the camera",
  scan_hint: "Hold the label in the frame: its square or its bars.",
  scan_light: "Light",
  scan_type: "Type it instead",
  scan_wrong: (text: string) =>
    `This reads ${text}, and no label does: damaged or misprinted. Try the label's other symbol, or type it.`,
  scan_several: (labels: string) => `More than one label in sight: ${labels}. Show one alone.`,
  scan_not_ours: (text: string) => `Not one of our labels: “${text}”.`,
  scan_refused:
    "This app may not use the camera. Allow it in the browser's settings for this page, or type the eight symbols.",
  scan_no_camera: "No camera to be found here. Type the eight symbols.",
  scan_in_use: "The camera stopped, or another app has it. Try again, or type the eight symbols.",
  scan_cannot_read: "This phone cannot read pictures of labels. Type the eight symbols.",
  scan_not_here:
    "Scanning has not reached this phone yet; it comes by itself with signal. Type the eight symbols.",
  tread: "Tread depth, 32nds of an inch",
  tread_groove: (n: number) => `Groove ${n}`,
  tread_next: (n: number) => `Next: groove ${n}`,
  tread_full: "12 grooves are the most",
  tread_erase: "Take back",
  tread_none: "not measured",
  tin: "TIN (DOT code)",
  tin_hint: "The last four digits are enough",
  tin_letters: "ABC: letter keys for the TIN",
  tin_week: (week: number, year: number) => `week ${week} of ${year}`,
  tin_either: (dates: string) => `Three digits, so made before July 2000: ${dates}.`,
  tin_or: " or ",
  tin_weeks_old: (n: number) => `${counted(n, "week", "weeks")} old`,
  tin_years_old: (n: number) => `${counted(n, "year", "years")} old`,
  tin_retread: (date: string) => `Retreaded in ${date}; the casing is older.`,
  tin_mark_open: (apart: string) =>
    `The R may be a retreader's mark: then write ${apart}. As it stands it belongs to the code.`,
  tin_slips: (pairs: string) => `Read ${pairs}: no TIN holds such letters.`,
  tin_slip: (typed: string, meant: string) => `${typed} as ${meant}`,
  tin_future: (date: string) => `${date} is still to come. Look again.`,
  tin_week_wrong: (week: string) =>
    `No year has a week ${week}. The date is week, then year. Look again.`,
  tin_no_week_53: (year: string) => `The year ${year} had no week 53. Look again.`,
  tin_unread: "The date cannot be read. A photo of it helps the plant.",
  tin_no_date: "No date yet: a TIN ends in digits, week and year.",
  tin_symbol: (c: string) => `No TIN holds ${c}. Look again.`,
  tin_too_long: (n: number) => `A TIN has 13 symbols at most; this has ${n}. Look again.`,
  tin_layout: (n: number) =>
    `With that date a TIN does not have ${n} symbols; one may be missing or too many. Look again.`,
  tin_maybe_three: (dates: string) => `On a tire from before July 2000 it may be ${dates}.`,
  tin_mileage: "For mileage contract use only: such a tire may have no TIN.",
  size: "Size",
  note: "Note",
  room_left: (n: number) => `${counted(n, "more symbol fits", "more symbols fit")}.`,
  room_none: (n: number) => `Full: ${n} symbols are the most, what comes after is not taken.`,
  photo: "Photo",
  photo_add: "Take a photo",
  photo_busy: "Making it small",
  photo_failed: "This file is not a picture that can be kept. Take it again.",
  photo_drop: (n: number) => `Remove photo ${n}`,
  photo_alt: (n: number) => `Photo ${n} of this casing`,
  photos: (n: number) => counted(n, "photo", "photos"),
  save: "Save casing",
  save_labelled: "Save casing",
  save_correction: "Save correction",
  saved: (label: string) => `${label} saved`,
  save_failed:
    "This phone could not write it down. Free some space and save again; nothing was taken away.",
  sheet_kept: "Half entered; kept on this phone",

  list_title: "On this pickup",
  list_none: "Casings stand here as you save them.",
  put_away: "No pickup here after all",
  correct: "Correct",
  withdraw: "Take it off this pickup",
  withdraw_why: "Why?",
  withdraw_reasons: ["Entered twice", "Wrong pile; put back", "Customer keeps it"],
  withdraw_do: "Take it off",
  withdraw_reason_missing: "Say why; the reason is kept.",

  waiting_to_send: "waiting to send",
  waiting_since: (when: string) => `waiting to send since ${when}`,
  recorded: "recorded",
  in_question: "label in question",
  question_open: "a question is open at the office",
  needs_you: "needs you",
  stages: {
    picked_up: "picked up",
    received: "at the plant",
    in_work: "worked on",
    finished: "finished",
    shipped: "on its way back",
    returned: "back with its owner",
    rejected: "rejected",
  } as Record<string, string>,
  on_hold: "on hold",

  finish: "Finish pickup",
  finish_title: "Finish this pickup",
  finish_say: "Count together with the customer before you leave.",
  finish_counted: "You counted",
  finish_customer: "Customer's count",
  finish_customer_hint: "Leave empty if nobody counted",
  finish_agree: "Both counts agree.",
  finish_more: (n: number) =>
    `Customer says ${n} more than you entered. Look again, or finish as it is.`,
  finish_fewer: (n: number) =>
    `Customer says ${n} fewer than you entered. Look again, or finish as it is.`,
  finish_number: (typed: string) =>
    `“${typed}” cannot be told: a whole number from 0 to 9999, or nothing.`,
  finish_ask: (own: number, customer: number) => `You ${own}, customer ${customer}?`,
  finish_so: "Finish as it is",
  finish_half: "A casing, scrap or a change is half entered. Save it or clear it first.",
  finish_clear: "Clear what is half entered",
  finish_do: "Finish",
  finish_empty: "Add a casing first.",
  finish_needs_you: (n: number) =>
    `${casings(n)} could not be recorded and will not be on the receipt.`,

  receipt: "Receipt",
  receipt_say: "counted; condition subject to plant inspection",
  receipt_total: (n: number) => `${casings(n)} picked up`,
  receipt_by: (name: string) => `Picked up by ${name}`,
  receipt_new: "Back to today",

  all_recorded: "Everything is recorded",
  nothing_waits: "Nothing waits to be sent",
  sending: "sending now",
  no_signal: "no signal",
  server_away: "the office's server does not answer",
  photos_waiting: (n: number) =>
    `${counted(n, "photo or signature", "photos or signatures")} on the way`,
  revoked:
    "The office has shut this phone off. What is not sent is kept here. Ask the office for a new code.",
  unknown_device: "The office does not know this phone any more. What is not sent is kept here.",
  closing: "This phone is being taken out of use. Keep it on until everything is sent.",
  closing_done: "Everything is sent. You can hand this phone back.",
  shut_start: "Nothing new can be entered on this phone until it is enrolled again.",
  shut_save:
    "Nothing can be saved on this phone until it is enrolled again. What is half entered is kept.",
  needs_you_count: (n: number) => `${n} ${n === 1 ? "needs" : "need"} you`,
  needs_title: "Needs you",
  needs_look: "See what",
  needs_say:
    "The office's server could not take these. They are kept on this phone. Try again, or read the words to the office.",
  needs_casing: (label: string) => `Casing ${label}`,
  needs_photo: "A photo",
  needs_other: "An entry",
  needs_field: (field: string, value: string, allowed: string) =>
    `${field}: “${value}” (${allowed})`,
  new_version: "A new version is ready",
  new_version_do: "Use it now",
  new_version_later: "After this pickup",
};

export type Words = typeof en;
