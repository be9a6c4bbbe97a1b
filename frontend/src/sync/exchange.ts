/**
 * One question to the server and what its status means for the phone, told apart once here:
 * no signal, server away, revoked, unknown, closing, feed begun anew, too large, malformed.
 */
import type { Clock } from "../ports/clock";
import type { Ids } from "../ports/ids";
import type { Locks } from "../ports/locks";
import { type Ask, type Net, NetFault } from "../ports/net";
import type { Storage } from "../ports/storage";
import type { Store } from "../store";
import type { Shut } from "../store/local";
import { meta, put } from "../store/marks";
import type { Opened } from "./opened";
import { type Problem, readProblem, Unreadable } from "./wire";

export interface Ports {
  clock: Clock;
  ids: Ids;
  net: Net;
  locks: Locks;
  storage: Storage;
}

export interface Deps extends Ports {
  store: Store;
  /** What a PIN opened in this page; a worker has none. */
  opened?: Opened;
}

export type Trouble =
  | "no_signal"
  | "server_away"
  | "device_revoked"
  | "device_unknown"
  | "device_closing"
  | "feed_anew"
  | "too_large"
  | "broken" // the server fell over this very request (500)
  | "malformed"; // the server cannot read this request

/** The office lets this phone no further until it is enrolled again. */
export const isShut = (trouble: Trouble): trouble is Shut =>
  trouble === "device_revoked" || trouble === "device_unknown" || trouble === "device_closing";

/** The exchange did not bring an answer that settles anything. */
export class NoAnswer extends Error {
  constructor(
    readonly trouble: Trouble,
    readonly retryAfterS: number | null = null,
    readonly problem: Problem | null = null,
    readonly status: number | null = null,
  ) {
    super(trouble);
  }
}

/** Asks and reads; throws NoAnswer for everything that is not a readable 200. */
export async function exchange<T>(deps: Deps, ask: Ask, read: (text: string) => T): Promise<T> {
  const sentAt = deps.clock.now();
  let reply: Awaited<ReturnType<Net["ask"]>>;
  try {
    reply = await deps.net.ask(ask);
  } catch (cause) {
    if (!(cause instanceof NetFault)) throw cause;
    throw new NoAnswer(deps.net.online() ? "server_away" : "no_signal");
  }
  if (reply.status !== 200) throw refusal(reply.status, reply.text, reply.retryAfterS);
  let answer: T;
  try {
    answer = read(reply.text);
  } catch (cause) {
    if (!(cause instanceof Unreadable)) throw cause;
    throw new NoAnswer("server_away"); // cut in the middle, or not our server at all
  }
  await measure(deps, sentAt, answer);
  return answer;
}

/** The server's own words for what it will not do, and what each means here. */
const MEANS: Record<string, Trouble> = {
  device_revoked: "device_revoked",
  device_unknown: "device_unknown",
  device_closing: "device_closing",
  epoch_changed: "feed_anew",
  past_horizon: "feed_anew",
  too_large: "too_large",
  malformed: "malformed",
  media_type: "malformed",
};

/**
 * A status alone says little: a proxy between, or a hotel's sign-in page, answers 400 or 413 too.
 * Only the code of our own problem counts against what was entered; else the server is away.
 */
function refusal(status: number, text: string, retryAfterS: number | null): NoAnswer {
  const problem = readProblem(text);
  const away = status === 500 ? "broken" : "server_away";
  const own = status >= 400 && status < 500 && Object.hasOwn(MEANS, problem.code);
  return new NoAnswer(own ? MEANS[problem.code]! : away, retryAfterS, problem, status);
}

/**
 * The offset of the device's clock, seen from the middle of the exchange. One that this exchange
 * does not contradict stays: nobody knows when in between the server looked at its clock.
 */
async function measure(deps: Deps, sentAt: number, answer: unknown): Promise<void> {
  const server = (answer as { serverTimeMs?: unknown } | null)?.serverTimeMs;
  const now = deps.clock.now();
  // A clock that was set while we waited says nothing about its offset.
  if (typeof server !== "number" || now < sentAt || now - sentAt > 60_000) return;
  const offset = Math.round(server - (sentAt + now) / 2);
  const known = await meta(deps.store.outbox, "offset");
  if (known !== null && Math.abs(offset - Number(known)) <= (now - sentAt) / 2) return;
  await put(deps.store.outbox, "offset", offset);
}
