/**
 * Condition as a keyboard tells it: a code or some letters of the words, then what more there is
 * to say. Pure.
 *
 *   wcd        sidewall, cord showing          zone: c s w b l (crown, shoulder, sidewall, bead, liner)
 *   cnh x3     crown, three nail holes         x and a number: how many alike
 *   wct 40 s   sidewall, a cut of 40 mm, on the serial side        s, o: serial or other side
 *   nail       whatever has "nail" in its words, to be chosen from
 */
import { KINDS_BY_ZONE, sidesOf, ZONES } from "../../domain/condition";
import type { Condition, Finding, Side, Zone } from "../../domain/operation";
import { MOST_ALIKE, MOST_MM } from "../seen/findings";

const ZONE_LETTERS: Record<Zone, string> = {
  crown: "c",
  shoulder: "s",
  sidewall: "w",
  bead: "b",
  inner_liner: "l",
};

const KIND_LETTERS: Record<Condition, string> = {
  nail_hole: "nh",
  cut: "ct",
  crack: "ck",
  bulge: "bg",
  abrasion: "ab",
  chunking: "ch",
  stone_drilling: "sd",
  bead_damage: "bd",
  liner_damage: "ld",
  old_nail_repair: "on",
  old_spot_repair: "os",
  old_section_repair: "oc",
  old_bead_repair: "ob",
  dot_removed: "dr",
  other: "ot",
  bead_wire: "bw",
  cord: "cd",
  separation: "sp",
  run_flat: "rf",
  oil: "ol",
  heat: "ht",
};

export interface Seen {
  zone: Zone;
  kind: Condition;
}

export const codeOf = ({ zone, kind }: Seen): string => ZONE_LETTERS[zone] + KIND_LETTERS[kind];

/** All that can be seen of a casing, from the road to the air. */
export const ALL_SEEN: Seen[] = ZONES.flatMap((zone) =>
  KINDS_BY_ZONE[zone].map((kind) => ({ zone, kind })),
);

export interface Typed {
  /** The code, or letters of the words. */
  head: string;
  side: Side;
  mm: number | null;
  count: number;
}

/** The words at the end that are no part of the name: a length, how many, a side. */
export function typedIn(text: string): Typed {
  const words = text.trim().toLowerCase().split(/\s+/).filter(Boolean);
  const told: Typed = { head: "", side: "", mm: null, count: 1 };
  while (words.length > 1 && takes(told, words.at(-1)!)) words.pop();
  return { ...told, head: words.join(" ") };
}

function takes(told: Typed, word: string): boolean {
  const mm = /^(\d{1,4})(mm)?$/.exec(word);
  const times = /^x(\d{1,2})$/.exec(word);
  if (word === "s") told.side = "serial";
  else if (word === "o") told.side = "other";
  else if (mm !== null && within(Number(mm[1]), MOST_MM)) told.mm = Number(mm[1]);
  else if (times !== null && within(Number(times[1]), MOST_ALIKE)) told.count = Number(times[1]);
  else return false;
  return true;
}

const within = (n: number, most: number): boolean => n >= 1 && n <= most;

/** One or two of each zone, to begin with where nothing is typed: what is seen most, and stops it. */
const COMMONEST: Seen[] = ["cnh", "cct", "snh", "scd", "wct", "wcd", "bbd", "bbw", "lld"].map(
  (code) => ALL_SEEN.find((seen) => codeOf(seen) === code)!,
);

/** What may be meant; a short list by zone where nothing is typed: by its code first, then by letters that stand in its words. */
export function meant(head: string, said: (seen: Seen) => string): Seen[] {
  if (head === "") return COMMONEST;
  const code = head.replaceAll(" ", "");
  const byCode = ALL_SEEN.filter((seen) => codeOf(seen).startsWith(code));
  const letters = plain(head).split(" ");
  const byWords = ALL_SEEN.filter(
    (seen) =>
      !byCode.includes(seen) && letters.every((part) => begins(plain(said(seen)).split(" "), part)),
  );
  return [...byCode, ...byWords];
}

const begins = (words: string[], part: string): boolean =>
  words.some((word) => word.startsWith(part));

/** Without accents and capitals, words apart. */
const plain = (text: string): string =>
  text
    .normalize("NFD")
    .replace(/\p{Mark}/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, " ")
    .trim();

/** A side is told only where the zone has one. */
export const findingOf = ({ zone, kind }: Seen, { side, mm, count }: Typed): Finding => ({
  zone,
  kind,
  side: side !== "" && sidesOf(zone).includes(side) ? side : "",
  mm,
  count,
  photos: [],
});
