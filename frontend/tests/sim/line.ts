/**
 * The way from one phone to the server, as bad as a schedule wants it: an HTTP proxy on loopback
 * with a port of its own. It knows nothing of what is carried. A fault counts when it has happened,
 * not when it was meant: a `lost` answer is one that the server had given with 200.
 *
 *   drop       the server never hears
 *   torn       the server hears half of the request
 *   lost       the server hears, its answer never comes
 *   mute       the same, but the line stays open and silent until the phone gives up
 *   half_open  the line is taken, then silence; the server never hears
 *   cut        the answer ends in the middle of its bytes
 *   double     the server hears twice, at once; the phone hears one answer
 *   late       the server hears only after a later request (reordered); no answer
 *   delay      the server hears after a while, others first
 */
import { Agent, createServer, type IncomingMessage, request, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { setTimeout as pause } from "node:timers/promises";

export const FATES = [
  "drop",
  "torn",
  "lost",
  "mute",
  "half_open",
  "cut",
  "double",
  "late",
  "delay",
] as const;
export type Fate = (typeof FATES)[number];

/** Of the next request at all, or of the next at one door(a part of its path). */
export interface Fated {
  fate: Fate;
  door: string;
}

/** By this header a phone numbers its requests; it is taken off on the way. */
export const NUMBER = "x-number";

interface Asked {
  method: string;
  path: string;
  headers: IncomingMessage["headers"];
  body: Buffer;
}
interface Said {
  status: number;
  headers: IncomingMessage["headers"];
  body: Buffer;
}
/** An answer of 500 and more, and between which moments (ms since 1970) it was on its way. */
export interface Broken {
  status: number;
  path: string;
  from: number;
  to: number;
  text: string;
}

const DELAY_MS = 40;

export class Line {
  /** What becomes of the next requests, one each; none that fits: they pass. */
  fates: Fated[] = [];
  readonly happened: Record<string, number> = {};
  /** How often each door gave each status. */
  readonly answers: Record<string, number> = {};
  readonly broken: Broken[] = [];
  /** Says that the phone has waited for this request as long as it ever will: time runs faster. */
  onSilence: (number: string) => void = () => {};
  exchanges = 0;
  private late: Asked[] = [];
  private turn = 0;
  private readonly agent: Agent;
  private readonly server = createServer((req, res) => {
    this.serve(req, res).catch(() => res.destroy());
  });

  /** `from`: this phone's own address; the server counts tries by it. `upstreams`: web processes. */
  constructor(
    private readonly from: string,
    private readonly upstreams: number[],
  ) {
    this.agent = new Agent({ keepAlive: true, localAddress: from });
    this.server.keepAliveTimeout = 600_000;
  }

  async open(): Promise<string> {
    await new Promise<void>((ready) => this.server.listen(0, "127.0.0.1", ready));
    return `http://127.0.0.1:${(this.server.address() as AddressInfo).port}`;
  }

  /** The network is well from now on; what was late arrives. */
  async heal(): Promise<void> {
    this.fates = [];
    await this.deliverLate();
  }

  close(): void {
    this.server.close();
    this.server.closeAllConnections();
    this.agent.destroy();
  }

  count(fault: string): void {
    this.happened[fault] = (this.happened[fault] ?? 0) + 1;
  }

  private async serve(req: IncomingMessage, res: ServerResponse): Promise<void> {
    const body = await whole(req);
    const { [NUMBER]: number, ...others } = endToEnd(req.headers);
    const headers = { ...others, "content-length": `${body.length}` };
    const asked = { method: req.method!, path: req.url!, headers, body };
    const fate = this.fateOf(asked.path);
    this.exchanges++;
    if (fate === "drop" || fate === "torn" || fate === "half_open" || fate === "late") {
      if (fate === "torn") await this.tear(asked);
      if (fate === "late") this.late.push(asked);
      else this.count(fate);
      if (fate === "half_open") return this.onSilence(String(number));
      return void res.destroy();
    }
    if (fate === "delay") {
      await pause(DELAY_MS);
      this.count(fate);
    }
    let said: Said;
    try {
      const twice = fate === "double" ? this.carry(asked).catch(() => null) : null;
      said = await this.carry(asked);
      if (twice !== null && (await twice) !== null) this.count("double");
    } catch {
      this.count("server away");
      return void res.destroy();
    }
    await this.deliverLate();
    if (fate === "lost" || fate === "mute" || fate === "cut") {
      this.count(said.status === 200 ? fate : `${fate} (no 200)`);
      if (fate === "mute") return this.onSilence(String(number));
      if (fate === "lost") return void res.destroy();
    }
    res.writeHead(said.status, { ...endToEnd(said.headers), "content-length": said.body.length });
    if (fate !== "cut") return void res.end(said.body);
    res.write(said.body.subarray(0, said.body.length / 2), () => res.destroy());
  }

  private fateOf(path: string): Fate | null {
    const at = this.fates.findIndex(({ door }) => path.includes(door));
    return at < 0 ? null : this.fates.splice(at, 1)[0]!.fate;
  }

  private async deliverLate(): Promise<void> {
    for (const old of this.late.splice(0)) {
      try {
        await this.carry(old);
        this.count("late");
      } catch {
        this.count("late and lost");
      }
    }
  }

  /** Half of the request goes up, then the line breaks. */
  private async tear({ method, path, headers, body }: Asked): Promise<void> {
    await new Promise<void>((torn) => {
      const up = request({ ...this.upstream(), method, path, headers, agent: false });
      up.on("error", () => torn()).on("close", () => torn());
      up.write(body.subarray(0, body.length / 2), () => up.destroy());
    });
  }

  private async carry({ method, path, headers, body }: Asked): Promise<Said> {
    const from = Date.now();
    const said = await new Promise<Said>((resolve, reject) => {
      const up = request({ ...this.upstream(), method, path, headers, agent: this.agent });
      up.on("error", reject);
      up.on("response", (answer) => {
        whole(answer).then(
          (text) => resolve({ status: answer.statusCode!, headers: answer.headers, body: text }),
          reject,
        );
      });
      up.end(body);
    });
    const door = `${path.replace(/[0-9a-f]{64}$/, "")} ${said.status}`;
    this.answers[door] = (this.answers[door] ?? 0) + 1;
    if (said.status >= 500) {
      const text = said.body.toString().slice(0, 200);
      this.broken.push({ status: said.status, path, from, to: Date.now(), text });
    }
    return said;
  }

  private upstream(): { hostname: string; port: number; localAddress: string; family: 4 } {
    const port = this.upstreams[this.turn++ % this.upstreams.length]!;
    return { hostname: "localhost", family: 4, port, localAddress: this.from };
  }
}

/** Headers that are not about one hop of the way (RFC 9110, section 7.6.1), and no host. */
function endToEnd(headers: IncomingMessage["headers"]): IncomingMessage["headers"] {
  const { host, connection, "keep-alive": _, "transfer-encoding": __, ...rest } = headers;
  return rest;
}

async function whole(stream: IncomingMessage): Promise<Buffer> {
  const pieces: Buffer[] = [];
  for await (const piece of stream) pieces.push(piece as Buffer);
  if (!stream.complete) throw new Error("ended in the middle");
  return Buffer.concat(pieces);
}
