/**
 * The other side of the protocol, as short as the docstring of the sync wire: it keeps operations
 * by id, gives the same answer again, and shows pick_ups as rows. The real server is tried by the
 * Python tests; this one is for what a phone must do when the network is at its worst.
 */
import type { Envelope, PickUp } from "../../src/domain/operation";
import type { Ask, Reply } from "../../src/ports/net";
import type { FakeClock } from "./FakeClock";

/** What our problems are called, where a test does not say which one it is. */
export const CODES: Record<number, string> = {
  400: "malformed",
  401: "device_unknown",
  410: "epoch_changed",
  413: "too_large",
  415: "media_type",
};

type Said = { outcome: string; id: string; position?: string; code?: string };

export class PaperServer {
  epoch = "01960000-0000-7000-8000-0000000000f1";
  operations = new Map<string, Envelope>();
  photos = new Set<string>();
  /** How often each operation was heard. */
  heard = new Map<string, number>();
  /** What to say to an operation instead of "accepted". */
  verdicts = new Map<string, Partial<Said>>();
  /** Statuses for a whole request, before anything is heard. */
  gate: (ask: Ask) => number | null = () => null;
  code: string | null = null;
  /** The office is taking the device out of use. */
  closing = false;
  /** What the device said of itself, each time, that it still holds. */
  waits: number[] = [];
  /** Photos that it does not take, as if they were no pictures. */
  spoilt = new Set<string>();
  retryAfterS: number | null = null;
  /** Rows are seen only when the test says so: an answer may come long before its effect. */
  feedTo: number | null = null;
  private answers = new Map<string, Said>();
  private feed: object[] = [];

  constructor(readonly clock: FakeClock) {}

  answer = async (ask: Ask): Promise<Reply> => {
    const status = this.gate(ask);
    if (status !== null) return this.problem(status);
    if (ask.path === "/api/sync/push") return this.push(JSON.parse(ask.body as string));
    if (ask.path === "/api/sync/pull") return this.pull(JSON.parse(ask.body as string));
    if (ask.path === "/api/devices/standing") {
      this.waits.push((JSON.parse(ask.body as string) as { waits: number }).waits);
      return ok({ device: "d", status: this.closing ? "closing" : "active" });
    }
    if (ask.path === "/api/devices/renew") return ok({});
    if (ask.path === "/api/devices/enrol") return this.enrol(JSON.parse(ask.body as string));
    const sha256 = ask.path.split("/").pop()!;
    if (this.spoilt.has(sha256)) return this.problem(400);
    this.photos.add(sha256);
    return ok({ sha256, state: "here" });
  };

  row(entity: string, id: string, body: object): void {
    this.feed.push({ scope: "site:1", entity, id, version: this.feed.length + 1, body });
  }

  /** A restore: the feed begins anew and what was heard of late is not known. */
  restore(forgotten: string[]): void {
    this.epoch = `${this.epoch.slice(0, -1)}${(Number(this.epoch.slice(-1)) + 1) % 10}`;
    this.feed = [];
    for (const id of forgotten) {
      this.operations.delete(id);
      this.answers.delete(id);
    }
    for (const operation of this.operations.values()) this.show(operation);
  }

  private push(asked: { operations: Envelope[] }): Reply {
    const answers = asked.operations.map((operation) => {
      this.heard.set(operation.id, (this.heard.get(operation.id) ?? 0) + 1);
      const before = this.answers.get(operation.id);
      if (before !== undefined) return { ...before, repeat: true };
      const said: Said = {
        outcome: "accepted",
        id: operation.id,
        position: String(this.feed.length),
        ...this.verdicts.get(operation.id),
      };
      if (said.outcome === "refused") return said;
      this.operations.set(operation.id, operation);
      if (said.outcome !== "held") this.show(operation);
      this.answers.set(operation.id, said);
      return said;
    });
    const named = asked.operations.flatMap((one) => (one.payload as PickUp).photos ?? []);
    const missing_photos = [...new Set(named)].filter((sha256) => !this.photos.has(sha256));
    return ok({ server_time: this.time(), epoch: this.epoch, answers, missing_photos });
  }

  private show(operation: Envelope): void {
    if (operation.kind !== "custody.pick_up") return;
    const payload = operation.payload as PickUp;
    if (payload.corrects) return;
    this.row("work_order", operation.id, {
      ...payload,
      progress: "picked_up",
      picked_up_at: operation.happened_at,
    });
  }

  private pull(asked: { cursor: string | null; limit: number }): Reply {
    const [epoch, at] = (asked.cursor ?? `${this.epoch} 0`).split(" ");
    if (epoch !== this.epoch) return this.problem(410, "epoch_changed");
    const to = Math.min(this.feed.length, this.feedTo ?? this.feed.length);
    const end = Math.min(to, Number(at) + Math.min(asked.limit, 3));
    return ok({
      server_time: this.time(),
      epoch: this.epoch,
      cursor: `${this.epoch} ${end}`,
      horizon: String(end),
      more: end < to,
      rows: this.feed.slice(Number(at), end),
      forget: [],
    });
  }

  private enrol(asked: { device: string; name: string }): Reply {
    const site = { id: "01960000-0000-7000-8000-0000000000e1", name: "Bramblewick store" };
    return ok({ device: asked.device, name: asked.name, site, read_token: "r.token" });
  }

  private time = () => new Date(this.clock.trueNow()).toISOString();

  private problem(status: number, code = this.code ?? CODES[status]): Reply {
    return { status, text: JSON.stringify({ status, code }), retryAfterS: this.retryAfterS };
  }
}

const ok = (body: object): Reply => ({
  status: 200,
  text: JSON.stringify(body),
  retryAfterS: null,
});
