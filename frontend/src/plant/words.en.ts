/** What the floor says, in English: a station, its casing and its answers. */
import { counted } from "../pickups/plural";
import { dockAndCure } from "./words.dock.en";

export const en = {
  ...dockAndCure,
  station_title: "Which station is this tablet at?",
  station_say: "It stays so until somebody changes it, whoever holds the tablet.",
  station_gone: (station: string) =>
    `${station}: this station is not on the plant's route any more. Choose where it is now.`,
  station_usual: "The plant has not laid out its route yet: these are the usual stations.",
  station_here: "This tablet is here",
  station_change: "Another station",
  today: "today on this tablet",

  scan_title: "Scan the label",
  scan_hint: "Any time, wherever you touched last. Or type its eight symbols.",
  take: "This one",
  no_label: (text: string) => `“${text}” is no label: its eight symbols start with a letter.`,
  answer_first: (label: string) => `Answer for ${label} first, or put it aside.`,
  not_told: (label: string) => `Nothing was told of ${label}.`,

  queue_title: (n: number) => (n === 0 ? "Next here" : `Next here: ${n}`),
  queue_none: "Casings that come here next will stand here.",
  queue_more: (n: number) => `and ${n} more`,
  since: (at: string) => `since ${at}`,
  promised: (day: string) => `promised ${day}`,
  rush: "Rush: goes first",

  last_title: "Last scans here",
  last_none: "The last five scans will stand here. Each can be taken back.",
  take_back: "Take back",
  take_back_of: (label: string) => `Take back what was told of ${label}`,
  take_back_why: (label: string) => `Why is it taken back? ${label}`,
  take_back_reasons: ["Wrong casing", "Wrong key", "Looked again"],
  take_back_other: "Another reason",
  take_back_missing: "Say why: it stays in the casing's story.",
  taken_back: "Taken back",
  leave_it: "Leave it",
  not_kept: "This tablet could not keep it. Nothing was told; try again.",
  standings: {
    waiting: "waits to be sent",
    recorded: "recorded",
    in_question: "the office looks at it",
    needs_you: "not taken: look below",
  },

  outcomes: {
    received: "Received",
    passed: "Passed",
    repair: "Marked for repair",
    rejected: "Rejected",
    hold: "On hold",
    released: "Released",
    finished: "Finished",
    shipped: "Shipped",
    withdrawn: "Taken back",
  },
  answers: {
    received: "Received",
    passed: "Passed",
    repair: "Mark for repair",
    rework: "Work again",
    rejected: "Reject",
    hold: "Hold",
    released: "Release",
    finished: "Finished",
    shipped: "Shipped",
    withdrawn: "Take back",
  },
  forms: {
    repair: "Work it again: where does it go back to?",
    rejected: "Reject: why?",
    hold: "Hold: why?",
    released: "Release: on what grounds?",
  },
  told: (label: string, outcome: string) => `${label}: ${outcome.toLowerCase()}.`,
  stuck: "It goes on only when that is released. Put it aside where it cannot be taken along.",
  missing: {
    reason: "Choose why it is rejected.",
    cause: "Say by whose doing.",
    note: "Say why in a few words.",
    gauge: "One of the figures is none: see there.",
    envelope: "Tie it first: the number of its envelope or hook.",
    load: "Choose the cure load, beside its order. If it is not there, put this aside and begin it.",
    built: "Read it off the tire first.",
    caps: "A count from 1 to 20, or nothing.",
    tag: "Scan the finished tag that goes onto it.",
    tag_fault: "That is no tag: eight symbols with a check that fits.",
    tag_taken: "That is another casing's. Scan the tag that goes onto this one.",
    lots: "No lot is entered. Enter it, or press again to go on without one.",
    tag_same: "That is the label of this casing. The finished tag is another one.",
    released_first: "It differs from its order: that has to be released first, or it is sent back.",
    again: "Say which station it goes back to.",
    differences: "It differs from its order: say there why it goes on, or send it back.",
  },
  rejected_mark:
    "Mark it on the rubber, and tag it: “REJECTED – do not mount or inflate”, with the reason.",

  aside: "Put aside",
  unheard:
    "Nothing known of this label here yet. You can answer all the same; it finds its casing.",
  no_order: "Its order has not come yet. You can answer all the same.",
  contested: "Two casings are told of under this label: the office is looking at it.",
  read_as: (label: string, now: string) => `${label} was replaced: it wears ${now} now.`,
  last_seen: (station: string, at: string) => `Last seen: ${station}, ${at}`,
  reworked: (n: number) => `worked again ${counted(n, "time", "times")}`,
  in_envelope: (number: string) => `envelope ${number}`,
  design_of: (design: string) => `Tread design ${design}`,
  brand_of: (brand: string) => `Fleet brand ${brand}`,
  unit_of: (unit: string) => `Unit ${unit}`,
  order_of: (order: string) => `Order ${order}`,
  works: {
    retread: "Retread",
    repair: "Repair only",
    sell: "Bought by us",
    adjustment: "Claim: evidence, do not work on it",
  } as Record<string, string>,
  bases: {
    own: "own casing back",
    own_casing: "own casing back",
    any: "any of this customer's casings",
    any_of_customer: "any of this customer's casings",
    exchange: "exchange from our stock",
    cap_and_casing: "cap and casing",
    dealer: "our own",
    dealers_own: "our own",
  } as Record<string, string>,

  rejected_at: (station: string, at: string) => `Rejected at ${station}, ${at}`,
  held_at: (station: string, at: string) => `On hold since ${station}, ${at}`,
  never_released: "It may never be released. It goes home with its reason.",
  never_short: "never released",
  release: "Release",
  release_by_others: "Who answers for the plant can release it, not this station.",
  differs: "Differs",

  finds_title: "What was found",
  finds_say: "Found something? Tap where it is, then what it is, then how large.",
  finds_full: "50 findings are the most for one answer.",
  finds_none: "Nothing found so far.",
  finds_done: (n: number) => `${counted(n, "finding", "findings")} repaired since.`,
  found_at: (station: string, at: string) => `${station}, ${at}`,
  found_now: "now",
  change_find: (said: string) => `Change: ${said}`,
  photos_full: "No more photos fit: 12 are the most",
  limit_none: "No limit entered.",
  limit_beyond: "Beyond the entered limit.",
  limit_beside: "The entered limit stands beside it; you judge.",
  limit_stops: "It stops the casing: no limit speaks of it.",
  limit_of: (mm: string, source: string) =>
    `Entered: ${mm} mm${source === "" ? "" : ` (${source})`}.`,
  limit_count: (n: number) => `At most ${n} of them.`,
  limit_count_none: "How many: no limit entered.",

  reason_title: "Why",
  reason_find: "Find a reason by a word",
  reason_hint: "The customer reads it in these words.",
  reason_none: "No reason holds that word.",
  reason_all: (n: number) => `All other reasons (${n})`,
  reject_no_place: "If it has a place, go back and tap it on the drawing first.",
  cause_title: "By whose doing",
  kept: {
    load_short: "Cure load fell short",
    too_often: "Worked again more often than the plant allows",
    claim: "Kept as evidence of a claim: do not ship, scrap, buff or cut it",
  } as Record<string, string>,
  causes: {
    casing: "The casing itself",
    plant: "The plant: we owe it",
    road_or_dock: "Road or dock",
    customer: "The customer",
  },
  again_title: "Back to",
  reworks_no_limit: (n: number) =>
    `Worked again ${counted(n, "time", "times")} so far. No limit entered.`,
  reworks_of: (n: number, limit: number) =>
    `Worked again ${counted(n, "time", "times")} so far; entered limit ${limit}.`,
  note_why: "Why",
  note_more: "Anything more to say",

  buffed_title: "As it was buffed",
  tread_title: "The tread as it was cut",
  gauges: {
    circumference_mm: "Circumference, mm",
    crown_width_mm: "Crown width, mm",
    buffed_radius_mm: "Buffed radius, mm",
    texture: "Texture, by your samples",
    tread_width_mm: "Tread width, mm",
    tread_length_mm: "Tread length, mm",
  },
  gauge_bounds: (least: number, most: number) => `${least} to ${most}, or nothing`,
  gauge_fault: (typed: string, least: number, most: number) =>
    `“${typed}” does not fit: a number from ${least} to ${most}, or nothing.`,
  pitch: "Pitch of the tread, mm",
  pitch_of: (design: string) => `Pitch of ${design}, mm`,
  pitch_hint: "As the maker's sheet says; remembered for this design",
  length_no_around: "No circumference was measured at buffing: no length can be reckoned.",
  length_no_pitch: (around: string) =>
    `Circumference ${around} mm. With the pitch, the length stands here.`,
  length_is: (
    around: string,
    n: number,
    pitch: string,
    length: string,
    off: string,
    pushed: boolean,
  ) =>
    `Circumference ${around} mm: ${n} pitches of ${pitch} mm are ${length} mm, ${
      pushed ? `pushed together by ${off} mm` : `stretched by ${off} mm`
    }.`,
  length_off: (off: string, longer: boolean) =>
    `The tread is ${off} mm ${longer ? "longer" : "shorter"} than that.`,
  length_say: "Plain arithmetic in whole pitches, not the maker's instruction.",
  length_gum: (gum: string, ring: string) =>
    `With ${gum} mm of cushion gum under the tread it is ${ring} mm around.`,
  pitch_from: (sheet: string) => `As the plant has entered it: ${sheet}`,
  pitch_differs: (pitch: string, sheet: string) => `The plant has entered ${pitch} mm: ${sheet}`,
  figures_none: (design: string) => `${design}: no figure entered.`,
  figures_of: (design: string, sheets: string) =>
    `${design}, as the plant has entered it: ${sheets}`,
  figure_none: "no figure entered",
  figure_wanted: (wanted: string, off: string) =>
    off === ""
      ? `wanted ${wanted}; how far it may be off was not entered`
      : `wanted ${wanted}, up to ${off} off`,
  figure_range: (least: string, most: string) =>
    least === "" ? `at most ${most}` : most === "" ? `at least ${least}` : `${least} to ${most}`,
  figure_off: (
    gauge: string,
    is: string,
    wanted: string,
    off: string,
    more: boolean,
    allowed: string,
  ) =>
    `${gauge}: measured ${is}, wanted ${wanted}. ${off} ${more ? "more" : "less"}${
      allowed === "0" ? "" : `; up to ${allowed} was entered`
    }.`,
  width_is: (tread: string, crown: string, off: string) =>
    `Tread ${tread} mm, crown ${crown} mm: ${off} mm apart.`,
  lots_title: "Lots in use",
  lot_hint: "Off the box; told with each casing until you change it",
  materials: {
    cushion_gum: "Cushion gum",
    tread: "Tread",
    repair_unit: "Repair units",
    repair_gum: "Repair gum",
    cement: "Cement",
  },
  load_which: "Which cure load",
  machine: "Machine",
  envelope: "Envelope or hook number",
  envelope_hint: "Scan or type it: from here on the label is out of sight.",
  envelope_tied: (number: string) => `Tied to ${number}`,
  tag: "Finished tag",
  tag_hint: "The last scan before paint was the label. Scan the tag that goes on now.",
  tag_sound: "Its check fits",

  built_title: "Against the order",
  read_fields: {
    tread_design: "Tread design",
    fleet_brand: "Fleet brand",
    retread_tin: "Retread TIN",
    caps: "Retreaded how often, this time counted",
  } as Record<string, string>,
  ordered: (what: string) => `Ordered: ${what}`,
  order_none: "no design named",
  order_no_brand: "no brand",
  order_tin: (code: string) => `plant code ${code}, then week and year`,
  order_any_tin: "plant code, then week and year",
  order_caps: "one more than before",
  caps_least: (n: string) => `${n} or more`,
  as_ordered: "As ordered",
  difference: (field: string, ordered: string, found: string) =>
    `${field}: ordered ${ordered === "" ? "nothing" : ordered}, found ${found === "" ? "nothing" : found}`,
  differs_say: (n: number) =>
    `${counted(n, "difference", "differences")} from the order. Send it back, or say why it goes on.`,
  differs_note: "Why it goes on all the same",
};

export type FloorWords = typeof en;
