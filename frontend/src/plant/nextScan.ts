/** While a casing is being answered: what a scan is then. Pure. */
import type { Work } from "./rows";
import type { More } from "./stations";

/** Most symbols of an envelope's number that can be told. */
export const NUMBER_MOST = 40;

export type NextScan =
  | { is: "again" }
  | { is: "another"; label: string }
  | { is: "tag"; label: string }
  | { is: "envelope"; number: string }
  | { is: "none"; text: string };

/** `code`: the label it reads as, or null. A label that another casing wears is never a tag. */
export function nextScan(
  { text, code }: { text: string; code: string | null },
  at: { label: string; works: Map<string, Work>; more: More[] },
): NextScan {
  if (code !== null) {
    if (code === at.label) return { is: "again" };
    const worn = at.works.get(code);
    const others = worn !== undefined && worn !== at.works.get(at.label);
    return at.more.includes("tag") && !others
      ? { is: "tag", label: code }
      : { is: "another", label: code };
  }
  const number = text.trim();
  return at.more.includes("envelope") && number !== "" && number.length <= NUMBER_MOST
    ? { is: "envelope", number }
    : { is: "none", text: text.slice(0, NUMBER_MOST) };
}
