/**
 * What the driver sees: the server's rows with what this phone has told laid over them. Pure.
 *
 * The phone does not fold: an operation lies over the rows until its effect has been seen in them.
 * A casing is known by the id of its pick_up, which is its work order's id, so it neither
 * disappears between answer and pull nor shows twice.
 */
import { type Laid, lay, type Move, type Told, worse } from "./laying";
import { isNamed, replacements } from "./replaced";
import { yards } from "./entities";
import { type Casing, casingFromRow, type Delivery, type Pickup, type RowLike } from "./rows";
import { deliveryFromRow, emptyVisit, visitFromRow, visitLineFromRow } from "./visits";

export type { Move, Told } from "./laying";

/** Everything that this phone knows of; pickups and deliveries the latest first. */
export interface View {
  casings: Map<string, Casing>;
  pickups: Pickup[];
  deliveries: Delivery[];
  /** Hand-overs told on this phone and remembered, in the order of entry. */
  moves: Move[];
}

export function view(rows: RowLike[], told: Told[]): View {
  const laid = laidFrom(rows);
  const { casings, visits, lines, deliveries, moves } = laid;
  lay(told, laid);
  const now = replacements(casings.values());
  for (const one of [...moves, ...[...deliveries.values()].flatMap(({ lines }) => lines)])
    one.label = now.get(one.label) ?? one.label;
  for (const casing of casings.values()) {
    if (!casing.pickup) continue;
    const visit = visits.get(casing.pickup) ?? emptyVisit(casing.pickup, casing.yard);
    visits.set(casing.pickup, visit);
    visit.casings.push(casing);
    visit.store ??= casing.store;
    visit.standing = worse(visit.standing, casing.standing);
    if (casing.picked_up_at > visit.last_at) visit.last_at = casing.picked_up_at;
  }
  for (const line of lines.values()) {
    if (line.withdrawn || !line.pickup) continue;
    const visit = visits.get(line.pickup) ?? emptyVisit(line.pickup, line.yard);
    visits.set(line.pickup, visit);
    visit.lines.push(line);
    visit.store ??= line.store;
    visit.standing = worse(visit.standing, line.standing);
    if (line.at > visit.last_at) visit.last_at = line.at;
  }
  for (const visit of visits.values()) {
    visit.lines.sort((a, b) => order(a.at, b.at) || order(a.id, b.id));
    visit.casings.sort((a, b) => order(a.picked_up_at, b.picked_up_at) || order(a.id, b.id));
    if (visit.casings.length > 0) visit.count = visit.casings.length;
  }
  for (const visit of deliveries.values()) {
    const taken = visit.lines.filter((line) => line.standing !== "needs_you");
    visit.casings = taken.flatMap((line) => line.casing ?? []);
    visit.count = Math.max(visit.count, taken.length);
  }
  return { casings, pickups: latest(visits), deliveries: latest(deliveries), moves };
}

function laidFrom(rows: RowLike[]): Laid {
  const owners = new Map(yards(rows).map((yard) => [yard.id, yard.customer]));
  const laid: Laid = {
    casings: new Map(),
    visits: new Map(),
    lines: new Map(),
    deliveries: new Map(),
    moves: [],
    owners,
  };
  for (const { entity, id, body } of rows) {
    if (body === null) continue;
    if (entity === "work_order") laid.casings.set(id, casingFromRow(id, body));
    if (entity === "pickup") laid.visits.set(id, visitFromRow(id, body));
    if (entity === "visit_line") laid.lines.set(id, visitLineFromRow(id, body));
    if (entity === "delivery") laid.deliveries.set(id, deliveryFromRow(id, body));
  }
  return laid;
}

const order = (a: string, b: string): number => (a === b ? 0 : a < b ? -1 : 1);

const latest = <T extends { id: string; last_at: string }>(visits: Map<string, T>): T[] =>
  [...visits.values()].sort((a, b) => order(b.last_at, a.last_at) || order(b.id, a.id));

/** The casing that a label names now: not withdrawn, not back with its owner; the latest if two. */
export function wearing(casings: Iterable<Casing>, label: string): Casing | null {
  let found: Casing | null = null;
  for (const casing of casings) {
    if (!isNamed(casing, label) || casing.pickup === "" || casing.progress === "returned") continue;
    if (found === null || casing.picked_up_at > found.picked_up_at) found = casing;
  }
  return found;
}
