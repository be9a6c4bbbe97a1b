/**
 * What the phone and the server say to each other, read leniently: an unknown field is passed by,
 * an answer that cannot be understood counts as no answer. Operations go out as the very strings
 * that were entered, never parsed and written anew.
 */
import type { SealingKey } from "../store/local";
import type { Verdict } from "../store/outbox";
import type { Page, Row } from "../store/replica";
import type { components } from "./wire.gen";

/** The server's own words, generated from its schema: a field read here that is not there fails. */
type Said = components["schemas"];

export const BATCH = 500;
export const BODY_BYTES = 1024 * 1024;
export const PAGE = 500;
export const PROTOCOL = 1;

export interface Answer extends Omit<Verdict, "id"> {
  id: string | null;
  repeat: boolean;
}

export interface PushAnswer {
  serverTimeMs: number;
  epoch: string;
  answers: (Answer | null)[];
  missingPhotos: string[];
}

export interface PullPage extends Page {
  serverTimeMs: number;
}

export interface Enrolled {
  device: string;
  name: string;
  site: { id: string; name: string };
  read_token: string;
  /** Null from a server that knows of no files yet. */
  export_key: SealingKey | null;
}

/** Problem details (RFC 9457) with our code; also for an answer that has none. */
export interface Problem {
  code: string;
  title: string;
  faults: { field: string; value: string; allowed: string }[];
}

/** Thrown where an answer is not what the protocol says: as good as none. */
export class Unreadable extends Error {}

export function pushBody(sentAt: string, bodies: string[]): string {
  return `{"protocol":${PROTOCOL},"sent_at":${JSON.stringify(sentAt)},"operations":[${bodies.join(",")}]}`;
}

export const pullBody = (cursor: string | null): string => JSON.stringify({ cursor, limit: PAGE });

export function readPushAnswer(text: string): PushAnswer {
  const said = object<Said["PushAnswer"]>(text);
  return {
    serverTimeMs: time(said.server_time),
    epoch: string(said.epoch),
    answers: list(said.answers).map(readAnswer),
    missingPhotos: list(said.missing_photos).map(string),
  };
}

const OUTCOMES = ["accepted", "contested", "held", "refused"] as const;

/** One answer, or null for one in words that this version does not know. */
function readAnswer(value: unknown): Answer | null {
  const said = record<Said["Answer"]>(value);
  const outcome = OUTCOMES.find((o) => o === said.outcome);
  if (outcome === undefined) return null;
  return {
    id: text(said.id),
    outcome,
    repeat: said.repeat === true,
    position: text(said.position),
    code: text(said.code),
    field: text(said.field),
    value: text(said.value),
    allowed: text(said.allowed),
  };
}

export function readPullPage(body: string): PullPage {
  const said = object<Said["PullPage"]>(body);
  return {
    serverTimeMs: time(said.server_time),
    epoch: string(said.epoch),
    cursor: string(said.cursor),
    horizon: string(said.horizon),
    more: said.more === true,
    rows: list(said.rows).map(readRow),
    forget: list(said.forget).map(string),
  };
}

function readRow(value: unknown): Row {
  const said = record<Said["Row"]>(value);
  if (typeof said.version !== "number") throw new Unreadable("version");
  return {
    scope: string(said.scope),
    entity: string(said.entity),
    id: string(said.id),
    version: said.version,
    gone: said.gone === true,
    body: said.body === undefined || said.body === null ? null : record(said.body),
  };
}

export function readEnrolled(body: string): Enrolled {
  const said = object<Said["Enrolled"]>(body);
  const site = record<Said["SiteBrief"]>(said.site);
  return {
    device: string(said.device),
    name: string(said.name),
    site: { id: string(site.id), name: string(site.name) },
    read_token: string(said.read_token),
    export_key: said.export_key === undefined ? null : readKey(said.export_key),
  };
}

export function readStanding(body: string): "active" | "closing" {
  return object<Said["Standing"]>(body).status === "closing" ? "closing" : "active";
}

function readKey(value: unknown): SealingKey {
  const said = record<Said["SealingKey"]>(value);
  return { kty: string(said.kty), n: string(said.n), e: string(said.e), kid: string(said.kid) };
}

export function readPhotoAnswer(body: string): { sha256: string; here: boolean } {
  const said = object<Said["PhotoAnswer"]>(body);
  return { sha256: string(said.sha256), here: said.state === "here" };
}

/** New labels of a store, and who the dealer is. */
export interface Roll {
  labels: string[];
  dealer: string;
  phone: string;
}

export function readRoll(body: string): Roll {
  const said = object<Said["RollPrinted"]>(body);
  return {
    labels: list(said.labels).map(string),
    dealer: string(said.dealer),
    phone: string(said.phone),
  };
}

/** The problem in an answer that is not 200; `code` is empty where it names none. */
export function readProblem(body: string): Problem {
  let said: Unread<Said["Problem"]>;
  try {
    said = object<Said["Problem"]>(body);
  } catch {
    return { code: "", title: "", faults: [] };
  }
  const faults = Array.isArray(said.faults) ? said.faults : [];
  return {
    code: text(said.code) ?? "",
    title: text(said.title) ?? "",
    faults: faults.map((fault) => {
      const known = typeof fault === "object" && fault !== null;
      const f = known ? record<Said["Problem"]["faults"][number]>(fault) : {};
      return {
        field: text(f.field) ?? "",
        value: text(f.value) ?? "",
        allowed: text(f.allowed) ?? "",
      };
    }),
  };
}

/** What may stand under the names of T; nothing is believed of the values yet. */
type Unread<T> = { [K in keyof T]?: unknown };

function object<T>(body: string): Unread<T> {
  try {
    return record<T>(JSON.parse(body));
  } catch (cause) {
    throw new Unreadable("not JSON", { cause });
  }
}

function record<T = Record<string, unknown>>(value: unknown): Unread<T> {
  if (typeof value !== "object" || value === null || Array.isArray(value))
    throw new Unreadable("an object is missing");
  return value as Unread<T>;
}

function list(value: unknown): unknown[] {
  if (!Array.isArray(value)) throw new Unreadable("a list is missing");
  return value;
}

function string(value: unknown): string {
  if (typeof value !== "string") throw new Unreadable("a text is missing");
  return value;
}

function time(value: unknown): number {
  const at = Date.parse(string(value));
  if (Number.isNaN(at)) throw new Unreadable("an instant is missing");
  return at;
}

const text = (value: unknown): string | null => (typeof value === "string" ? value : null);
