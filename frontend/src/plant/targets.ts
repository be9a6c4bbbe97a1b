/**
 * What this plant wants of a tread design in a size, as it entered it from the maker's sheet. A
 * figure that the size's own line leaves out is taken from the design's line for all sizes; what
 * neither has was not entered, and nothing is held against it. Pure.
 */
import { type Body, isBody, list, number, text } from "../domain/body";
import { type Gauged, type Remark, remarks, type Target } from "../domain/figures";
import type { Measured } from "../domain/plantTelling";
import type { RowLike } from "../domain/rows";

export interface Wanted {
  target: Target;
  /** The sheets that it is from, by name. */
  sheets: string[];
}

const FIGURES = [
  "pitch_mm",
  "gum_mm",
  "length_off_mm",
  "radius_mm",
  "radius_off_mm",
  "texture_least",
  "texture_most",
  "tread_width_mm",
  "width_off_mm",
] as const satisfies (keyof Target)[];

/** As a person means it: capitals and spaces apart. */
const same = (a: string, b: string): boolean => plain(a) === plain(b);
const plain = (said: string): string => said.replaceAll(/\s+/g, "").toUpperCase();

/** Null where the plant has entered nothing of this design, or nobody knows which it is to be. */
export function wantedFor(rows: RowLike[], design: string, size: string): Wanted | null {
  const body = rows.find(({ entity }) => entity === "tread_targets")?.body;
  if (!isBody(body) || design === "") return null;
  const lines = list(body.targets)
    .filter(isBody)
    .filter((line) => same(text(line.tread_design), design));
  const own = size === "" ? undefined : lines.find((line) => same(text(line.size), size));
  const asked = [own, lines.find((line) => text(line.size) === "")].filter((one) => one);
  return asked.length === 0 ? null : laid(asked as Body[]);
}

function laid(lines: Body[]): Wanted {
  const figure = (name: (typeof FIGURES)[number]): number | null =>
    lines.map((line) => number(line[name])).find((value) => value !== null) ?? null;
  const told = Object.fromEntries(FIGURES.map((name) => [name, figure(name)])) as Target;
  return {
    target: { ...told, gum_mm: told.gum_mm ?? 0 },
    sheets: [...new Set(lines.map((line) => text(line.sheet)))].filter((one) => one !== ""),
  };
}

const NOTHING: Gauged = {
  circumference_mm: null,
  crown_width_mm: null,
  buffed_radius_mm: null,
  texture: null,
  tread_width_mm: null,
  tread_length_mm: null,
};

/** What was measured before with what is typed now, where it is not as wanted. */
export const notAsWanted = (before: Measured, now: Measured | null, target: Target): Remark[] =>
  remarks({ ...NOTHING, ...before, ...now }, target);

/** What is wanted of one gauge's figure, with how far it may be off: each null where not entered. */
export function wantedOf(
  gauge: keyof Gauged,
  t: Target,
): { least: number | null; most: number | null; off: number | null } {
  if (gauge === "texture") return { least: t.texture_least, most: t.texture_most, off: null };
  const [value, off] =
    gauge === "buffed_radius_mm"
      ? [t.radius_mm, t.radius_off_mm]
      : gauge === "crown_width_mm" || gauge === "tread_width_mm"
        ? [t.tread_width_mm, t.width_off_mm]
        : [null, null];
  return { least: value, most: value, off };
}
