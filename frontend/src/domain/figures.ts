/**
 * Buffing and building figures: what was measured beside what is wanted; plain arithmetic. Pure.
 *
 * Millimetres throughout. Nothing is wanted by itself: the plant enters it. A tread's length is
 * arithmetic, no maker's instruction. fixtures/vectors/figures.json holds it to its answers.
 */

export type Gauged = {
  circumference_mm: number | null;
  crown_width_mm: number | null;
  buffed_radius_mm: number | null;
  texture: number | null;
  tread_width_mm: number | null;
  tread_length_mm: number | null;
};

/** What a plant wants of this size and design; null where it has entered nothing. */
export type Target = {
  radius_mm: number | null;
  radius_off_mm: number | null;
  texture_least: number | null;
  texture_most: number | null;
  pitch_mm: number | null;
  gum_mm: number;
  length_off_mm: number | null;
  tread_width_mm: number | null;
  width_off_mm: number | null;
};

/** A tread cut to whole pitches; stretch_mm: how much longer the ring is than the tread. */
export type TreadLength = {
  ring_mm: number;
  pitches: number;
  length_mm: number;
  stretch_mm: number;
};

/** A figure that is not as wanted: how far off it is, and how far it may be. */
export type Remark = {
  figure: keyof Gauged;
  measured: number;
  wanted: number;
  off: number;
  allowed: number;
};

/** How long a tread closes the ring with the pattern unbroken; of two as near the longer. */
export function treadLength(circumferenceMm: number, pitchMm: number, gumMm = 0): TreadLength {
  if (!(circumferenceMm > 0 && pitchMm > 0 && gumMm >= 0))
    throw new RangeError("circumference and pitch are above zero, gum is not below");
  const ring = circumferenceMm + 2 * Math.PI * gumMm;
  const pitches = Math.max(1, Math.floor(ring / pitchMm + 0.5));
  const length = pitches * pitchMm;
  return { ring_mm: ring, pitches, length_mm: length, stretch_mm: ring - length };
}

function off(
  figure: keyof Gauged,
  measured: number | null,
  wanted: number | null,
  allowed: number | null,
): Remark[] {
  if (measured === null || wanted === null || allowed === null) return [];
  const away = measured - wanted;
  return Math.abs(away) > allowed ? [{ figure, measured, wanted, off: away, allowed }] : [];
}

function texture(measured: number | null, t: Target): Remark[] {
  if (measured === null) return [];
  const under = t.texture_least !== null && measured < t.texture_least;
  const over = t.texture_most !== null && measured > t.texture_most;
  return [
    ...(under ? off("texture", measured, t.texture_least, 0) : []),
    ...(over ? off("texture", measured, t.texture_most, 0) : []),
  ];
}

/** Where measured and wanted differ by more than the plant allows; silence is no approval. */
export function remarks(m: Gauged, t: Target): Remark[] {
  const tread = m.tread_width_mm ?? t.tread_width_mm;
  const length =
    m.circumference_mm === null || t.pitch_mm === null
      ? null
      : treadLength(m.circumference_mm, t.pitch_mm, t.gum_mm).length_mm;
  return [
    ...off("buffed_radius_mm", m.buffed_radius_mm, t.radius_mm, t.radius_off_mm),
    ...texture(m.texture, t),
    ...off("tread_width_mm", m.tread_width_mm, t.tread_width_mm, t.width_off_mm),
    ...off("crown_width_mm", m.crown_width_mm, tread, t.width_off_mm),
    ...off("tread_length_mm", m.tread_length_mm, length, t.length_off_mm),
  ];
}
