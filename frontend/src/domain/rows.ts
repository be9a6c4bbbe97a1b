/** The server's rows as the phone reads them; a field that is missing reads as nothing. Pure. */

/** How a thing stands, as far as this phone knows. */
export type Standing = "waiting" | "recorded" | "in_question" | "needs_you";

export interface RowLike {
  entity: string;
  id: string;
  body: Record<string, unknown> | null;
}

export interface Casing {
  id: string;
  pickup: string;
  yard: string;
  label: string;
  /** The label that its pick_up was first told under: a correction names it. */
  told_label: string;
  tin: string;
  size: string;
  tread_32nds: number[];
  note: string;
  photos: string[];
  progress: string;
  on_hold: boolean;
  standing: Standing;
  /** Since when the oldest unsent word about it waits. */
  waiting_since: number | null;
  operations: string[];
  /** Who took it off the yard, as far as is known here. */
  by: string | null;
  picked_up_at: string;
}

export interface Pickup {
  id: string;
  yard: string;
  casings: Casing[];
  count: number;
  customer_count: number | null;
  finished_at: string | null;
  /** Something about it was told on this phone. */
  here: boolean;
  standing: Standing;
  last_at: string;
}

export interface Person {
  id: string;
  name: string;
  role: string;
}

export interface Yard {
  id: string;
  name: string;
  customer_name: string;
  address: string;
}

const text = (value: unknown): string => (typeof value === "string" ? value : "");
const list = <T>(value: unknown): T[] => (Array.isArray(value) ? (value as T[]) : []);

export function casingFromRow(id: string, body: Record<string, unknown>): Casing {
  return {
    id,
    pickup: body.withdrawn === true ? "" : text(body.pickup),
    yard: text(body.yard),
    label: text(body.label),
    told_label: text(body.label),
    tin: text(body.tin),
    size: text(body.size),
    tread_32nds: list<number>(body.tread_32nds),
    note: text(body.note),
    photos: list<string>(body.photos),
    progress: text(body.progress),
    on_hold: body.on_hold === true,
    standing: body.contested === true ? "in_question" : "recorded",
    waiting_since: null,
    operations: [],
    by: /^person:(.*)$/.exec(text(body.holder))?.[1] ?? null,
    picked_up_at: text(body.picked_up_at),
  };
}

export function emptyVisit(id: string, yard: string): Pickup {
  const none = { casings: [], count: 0, customer_count: null, finished_at: null };
  return { id, yard, ...none, here: false, standing: "recorded", last_at: "" };
}

export function visitFromRow(id: string, body: Record<string, unknown>): Pickup {
  const count = typeof body.count === "number" ? body.count : 0;
  const customer_count = typeof body.customer_count === "number" ? body.customer_count : null;
  const finished_at = text(body.finished_at) || null;
  const visit = emptyVisit(id, text(body.yard));
  return { ...visit, count, customer_count, finished_at, last_at: finished_at ?? "" };
}

const byName = (a: { name: string }, b: { name: string }): number => a.name.localeCompare(b.name);

export const people = (rows: RowLike[]): Person[] =>
  rows
    .filter((row) => row.entity === "person" && row.body !== null)
    .map(({ id, body }) => ({ id, name: text(body?.name), role: text(body?.role) }))
    .sort(byName);

export const yards = (rows: RowLike[]): Yard[] =>
  rows
    .filter((row) => row.entity === "yard" && row.body !== null)
    .map(({ id, body }) => ({
      id,
      name: text(body?.name),
      customer_name: text(body?.customer_name),
      address: text(body?.address),
    }))
    .sort((a, b) => a.customer_name.localeCompare(b.customer_name) || a.name.localeCompare(b.name));
