/** Where Enter leads while a casing is typed: to what is not known yet. Pure. */

/** Null: the casing is saved. `at` is the field's id; "kind" where a kind was chosen. */
export function leadsTo(
  at: string,
  known: { size: string; treads: string; tire: boolean },
): string | null {
  if (at === "kind") return "label";
  if (!known.tire || at === "treads" || known.treads.trim() !== "") return null;
  return at === "tin" && known.size.trim() === "" ? "size" : "treads";
}
