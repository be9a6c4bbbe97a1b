/** What a casing is and how worn it is: TINs, size, treads, where it ran. In English. */
import type { RatingWrong } from "../../domain/load_index";
import type { SizeFound } from "../../domain/size";
import { counted } from "../plural";

type Facts = Record<string, string | number>;

export const casing = {
  label_hint_next: "Roll's next: last three are enough",
  label_next: (label: string) => `Next of the roll: ${label}`,
  label_own: (label: string) => `Your roll: ${label}`,

  tin_none: "No TIN to read:",
  tin_mileage_key: "Mileage contract",
  tin_cut_off: "DOT cut off",
  tin_cut_off_said: "DOT cut off: noted under condition; such a casing may not be retreaded.",
  tin_nth: (n: number) => `TIN ${n} (each retread has its own)`,
  tin_made: (n: number) => `TIN ${n}: made new, or by a retread`,
  tin_new: "New",
  tin_r: "R: retread",
  tin_another: "+ TIN",
  tin_another_named: "One more TIN: each retread has its own",
  tin_remove: "Remove",
  tin_remove_named: (n: number) => `Remove TIN ${n}`,
  tin_meant: (tin: string) => `Write ${tin}`,
  tin_decade: "Which year? Only if you know; it goes into the note.",
  tin_decade_noted: (digits: string, date: string) => `DOT ${digits}: ${date}`,

  sidewall: "TIN, size, brand",
  same_again_key: (what: string) => `Same again: ${what}`,
  size_hint: "As on the sidewall",
  size_read: (shown: string, radial: boolean, rim: string) =>
    `Reads ${shown}: ${radial ? "radial" : "bias"}, for ${rim} in rims`,
  size_height: (mm: string) => `about ${mm} mm high when new`,
  /** Nothing is said of what is still being typed, or is put right by itself. */
  size_found: {
    not_read: () => "No size that reads; it is kept as typed.",
    out_of_scope: ({ mark }) => `${mark} is of a lighter tire; it is kept as typed.`,
    digits_only: () => "Digits alone: tap what is meant.",
    letter_for_digit: () => "A letter stands where a digit belongs: tap what is meant.",
    section_not_used: ({ section }) => `No truck tire is ${section} wide. Look again.`,
    aspect_not_used: ({ aspect }) => `No truck tire has a ratio of ${aspect}. Look again.`,
    rim_not_used: ({ rim }) => `No truck rim is ${rim} inches. Look again.`,
    construction_open: () => "Radial or bias? Tap what is meant.",
    metric_bias: () => "A metric size is mostly radial. Look again.",
    uncommon: () => "A rare size. Look again.",
    rating_unread: ({ text }) => `“${text}” does not read as a load.`,
  } as Partial<Record<SizeFound, (facts: Facts) => string>>,
  size_theirs: "Sizes that this customer has, then the usual ones",
  brand: "Brand",
  brand_picks: "Brands of this customer's casings",
  rating: "Load rating",
  rating_hint: "Such as G 144/142L",
  rating_range: (letter: string, ply: number | null) =>
    ply === null ? `Load range ${letter}` : `Load range ${letter} (${ply} ply)`,
  rating_ply: (ply: number) => `${ply} ply`,
  rating_kg: (single: string, dual: string) => `single ${single} kg, dual ${dual} kg`,
  rating_one: (single: string) => `single ${single} kg`,
  rating_speed: (kmh: number) => `up to ${kmh} km/h`,
  rating_faults: {
    load_range_unknown: ({ load_range }) => `No load range is called ${load_range}. Look again.`,
    load_index_unknown: ({ index, least, most }) =>
      `No truck tire has load index ${index}: ${least} to ${most}. Look again.`,
    speed_symbol_unknown: ({ symbol }) => `No speed symbol is ${symbol}. Look again.`,
    dual_above_single: ({ single, dual }) =>
      `Dual ${dual} is more than single ${single}; the single load stands first. Look again.`,
    ply_differs: ({ load_range, expected, ply }) =>
      `Load range ${load_range} is ${expected} ply, not ${ply}. Look again.`,
    unread: ({ text }) => `“${text}” does not read as a load; it is kept as typed.`,
  } as Record<RatingWrong, (facts: Facts) => string>,

  position: "Where it ran",
  positions: { steer: "Steer", drive: "Drive", trailer: "Trailer", bus_front: "Bus front" },
  tread_place: (place: number, groove: number) => `Next: place ${place}, groove ${groove}`,
  tread_typed: (digit: string) => `${digit} and what comes next`,
  tread_readings: "Depths read",
  tread_turn: "Next place",
  tread_stay: (place: number) => `Still place ${place}`,
  tread_unread: "Not read",
  tread_unread_named: "Groove cannot be read",
  tread_how:
    "With keys: 2 to 9 at once, 10 to 19 in two, + ten more, - not read, / next place, Enter saves.",
  tread_lowest: (lowest: string, mean: string) => `Lowest ${lowest}, mean ${mean}`,
  tread_depth: (depth: string, mm: string) => `${depth} (${mm}\u00a0mm)`,
  tread_below: (least: number, wheels: "front_of_bus_truck_tractor" | "all_other") =>
    wheels === "front_of_bus_truck_tractor"
      ? `Below ${least}/32, the legal minimum on front wheels of trucks and buses; a limit of the law, not advice to run down to it.`
      : `Below ${least}/32, the legal minimum on all but front wheels; a limit of the law, not advice to run down to it.`,
  tread_under_pull: (by: number, pull: number) =>
    `${by}/32 below the ${pull}/32 at which this customer pulls.`,
  tread_left: (left: string, pull: number) =>
    `${left}/32 of tread left above the ${pull}/32 at which this customer pulls.`,
  tread_across: (by: number) => `${by}/32 between grooves of a place`,
  tread_between: (by: number) => `${by}/32 round the tire in a groove`,
  tread_uneven: (differences: string, causes: string) => `${differences}: ${causes}.`,
  tread_causes: {
    may_be_low_inflation_or_overload: "may come from low pressure or overload",
    may_be_high_inflation: "may come from high pressure",
    may_be_alignment: "may come from alignment",
    may_be_balance_or_flat_spot: "may come from balance or a flat spot",
    uneven_cause_open: "the cause is open; look at it",
  },

  ran_title: "Unit and miles",
  ran_none: "Nothing told",
  wheel: "Wheel",
  wheel_hint: "Such as left rear outer",
  wheel_short: (wheel: string) => `wheel ${wheel}`,
  odometer: "Odometer",
  odometer_unit: "Counted in",
  odometer_units: { mi: "Miles", km: "Kilometers" },
  odometer_short: (count: string, unit: "mi" | "km") => `${count} ${unit}`,
  odometer_fault: (typed: string) =>
    `“${typed}” cannot be told: a whole number up to 9,999,999 without decimals, or nothing.`,
  pulled_for: "Pulled for",
  pulled: {
    worn: "worn out",
    irregular_wear: "irregular wear",
    puncture: "puncture",
    damage: "damage",
    vibration: "vibration",
    age: "age",
    program: "tire program",
    other: "another reason",
  },
  pulled_untold: "Not told",
  tins_more: (n: number) => counted(n, "more TIN", "more TINs"),
};
