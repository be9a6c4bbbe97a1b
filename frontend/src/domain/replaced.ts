/**
 * Labels that gave way to others on their casing: a void one still means the casing that wears
 * another now. Pure.
 */

interface Worn {
  label: string;
  void_labels: string[];
  pickup: string;
  progress: string;
}

/** Whether a label names a casing: the one on it, or one that it wore before. */
export const isNamed = (casing: Worn, label: string): boolean =>
  casing.label === label || casing.void_labels.includes(label);

/** Each void label with the one in its place; one that another casing wears now is not void. */
export function replacements(casings: Iterable<Worn>): Map<string, string> {
  const all = [...casings].filter((one) => one.pickup !== "" && one.progress !== "returned");
  const worn = new Set(all.map((one) => one.label));
  return new Map(
    all.flatMap(({ label, void_labels }) =>
      void_labels.filter((old) => !worn.has(old)).map((old) => [old, label] as const),
    ),
  );
}

/** The label on the casing that a label names. */
export const nowOf = (label: string, casings: Iterable<Worn>): string =>
  replacements(casings).get(label) ?? label;
