/** A ruler in mm with a find laid on it and the entered limit marked: where each stands. Pure. */

export interface Ruler {
  /** The ruler's end, in mm. */
  end: number;
  /** Marks with a number, and those between without. */
  marks: { mm: number; named: boolean }[];
  find: number;
  limit: number | null;
}

const STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];

export function ruler(found: number, limit: number | null): Ruler {
  const reach = Math.max(found, limit ?? 0, 5) * 1.15;
  const step = STEPS.find((one) => reach / one <= 6) ?? 1000;
  const end = Math.ceil(reach / step) * step;
  const marks = [];
  for (let half = 0; half * (step / 2) <= end; half++)
    marks.push({ mm: half * (step / 2), named: half % 2 === 0 });
  return { end, marks, find: found, limit };
}
