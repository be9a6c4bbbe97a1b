/** The entered limit that a find is laid against, read from what the plant has entered. Pure. */
import { list, isBody, number, text, texts } from "../domain/body";
import type { RowLike } from "../domain/rows";
import type { Find } from "./answer";

export interface Held {
  says: "never" | "none" | "beyond" | "beside";
  most_mm: number | null;
  most_count: number | null;
  source: string;
}

const NONE: Held = { says: "none", most_mm: null, most_count: null, source: "" };

export function limitFor(rows: RowLike[], find: Find, size: string): Held {
  const body = rows.find(({ entity }) => entity === "repair_limits")?.body;
  if (!isBody(body)) return NONE;
  if (texts(body.never_kinds).includes(find.kind)) return { ...NONE, says: "never" };
  const fits = list(body.limits)
    .filter(isBody)
    .find(
      (one) =>
        one.active === true &&
        one.zone === find.zone &&
        one.kind === find.kind &&
        (text(one.size_class) === "" || text(one.size_class) === size),
    );
  if (fits === undefined) return NONE;
  const [most_mm, most_count] = [number(fits.most_mm), number(fits.most_count)];
  const over =
    (most_mm !== null && find.size_mm !== null && find.size_mm > most_mm) ||
    (most_count !== null && find.count > most_count);
  return { says: over ? "beyond" : "beside", most_mm, most_count, source: text(fits.source) };
}
