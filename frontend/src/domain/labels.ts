/**
 * The grammar of a label, as the server holds it: eight symbols, the last one a check. Pure.
 *
 *     R R S S S X X C     range (2), serial in the range (3), random (2), check (1)
 *
 * Symbols are the 30 that 49 CFR 574.5(f) allows; the first is a letter. The check is
 * ISO/IEC 7064 MOD 37-2 over the first seven. fixtures/vectors/labels.json holds both sides
 * to the same answers.
 */

export const SYMBOLS = "0123456789ABCDEFHJKLMNPRTUVWXY";
export const LETTERS = SYMBOLS.slice(10);
export const LENGTH = 8;
/** ISO/IEC 7064 MOD 37-2 numbers its characters 0-9, A-Z, then `*` for 36. */
const CHECK_ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";

/** What a hand meant that wrote a symbol which no label holds. */
const SLIPS: Record<string, string> = { G: "6", I: "1", O: "0", Q: "0", S: "5", Z: "2" };

/** What Python's str.isspace() counts as space, so that both sides drop the same. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: Python counts U+001C to U+001F too
const SPACE = /[\t-\r\x1c-\x20\x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]/g;
const EDGES = new RegExp(`^(?:${SPACE.source})+|(?:${SPACE.source})+$`, "g");

/** Why a text is not a label; told apart in words wherever one is typed or scanned. */
export type LabelFault =
  | "empty"
  | "wrong_length"
  | "symbol_not_used"
  | "first_not_a_letter"
  | "check_does_not_fit";

/** The ISO/IEC 7064 MOD 37-2 check of a body of 0-9 and A-Z; may be `*`. */
export function checkSymbol(body: string): string {
  let total = 0;
  for (const symbol of body) total = ((total + CHECK_ALPHABET.indexOf(symbol)) * 2) % 37;
  return CHECK_ALPHABET[(((1 - total) % 37) + 37) % 37]!;
}

/** A typed or scanned text as a candidate code: the path's last part, capitals, no gaps. */
export function tidy(text: string): string {
  const path = text.replace(EDGES, "").split("?")[0]!.split("#")[0]!.replace(/\/+$/, "");
  const last = path.slice(path.lastIndexOf("/") + 1).toUpperCase();
  const kept = last.replace(SPACE, "").replace(/[-._]/g, "");
  return [...kept].map((c) => SLIPS[c] ?? c).join("");
}

/** What keeps a tidied text from being a label, or null for a sound code. */
export function fault(candidate: string): LabelFault | null {
  if (candidate === "") return "empty";
  const symbols = [...candidate];
  if (symbols.some((c) => !SYMBOLS.includes(c))) return "symbol_not_used";
  if (symbols.length !== LENGTH) return "wrong_length";
  if (!LETTERS.includes(symbols[0]!)) return "first_not_a_letter";
  if (checkSymbol(candidate.slice(0, -1)) !== symbols[LENGTH - 1]) return "check_does_not_fit";
  return null;
}

/** A code as people read it: groups of four with a thin space between. */
export const shown = (code: string): string => `${code.slice(0, 4)}\u2009${code.slice(4)}`;

/** What a hand did that wrote another code than the label's. */
export type Slip = "two_swapped" | "one_wrong" | "one_missing" | "one_too_many";
const SLIP_ORDER: Slip[] = ["two_swapped", "one_wrong", "one_missing", "one_too_many"];
/** How many labels are offered at most for one that is mistyped. */
const OFFERS = 3;

/** The sound codes that one slip of a hand makes of this tidied text; none where it is sound. */
export function oneSlipAway(candidate: string): Map<string, Slip> {
  const found = new Map<string, Slip>();
  if (fault(candidate) === null) return found;
  for (const [slip, texts] of slipped([...candidate]))
    for (const text of texts) if (fault(text) === null && !found.has(text)) found.set(text, slip);
  return found;
}

/** The texts of a label's length that this may have been before each kind of slip. */
function slipped(text: string[]): [Slip, string[]][] {
  const put = (at: number, gone: number, ...there: string[]): string =>
    [...text.slice(0, at), ...there, ...text.slice(at + gone)].join("");
  const symbols = [...SYMBOLS];
  const places = text.map((_, at) => at);
  if (text.length === LENGTH - 1)
    return [
      ["one_missing", [...places, LENGTH - 1].flatMap((at) => symbols.map((s) => put(at, 0, s)))],
    ];
  if (text.length === LENGTH + 1) return [["one_too_many", places.map((at) => put(at, 1))]];
  if (text.length !== LENGTH) return [];
  const swapped = places.slice(1).map((at) => put(at - 1, 2, text[at]!, text[at - 1]!));
  const wrong = places.flatMap((at) => symbols.map((s) => put(at, 1, s)));
  return [
    ["two_swapped", swapped],
    ["one_wrong", wrong],
  ];
}

/** Which of the known labels a mistyped text may stand for: swapped ones first, a few at most. */
export function meant(
  candidate: string,
  known: ReadonlySet<string>,
): { code: string; slip: Slip }[] {
  return [...oneSlipAway(candidate)]
    .filter(([code]) => known.has(code))
    .map(([code, slip]) => ({ code, slip }))
    .sort(
      (a, b) =>
        SLIP_ORDER.indexOf(a.slip) - SLIP_ORDER.indexOf(b.slip) || (a.code < b.code ? -1 : 1),
    )
    .slice(0, OFFERS);
}
