/**
 * A network that does to each exchange what the test says next:
 *   pass     the server hears once, the phone hears the answer
 *   drop     the server never hears
 *   lost     the server hears, the answer is lost
 *   cut      the server hears, the answer ends in the middle
 *   double   the server hears twice, the phone hears the second answer
 *   late     the server hears only when the next request has come by (reordered); no answer
 *   dead     the phone has no signal at all
 *   portal   somebody else answers with a page of their own: 400, 413 or 415 in turn
 *   a number the server's answer is this status (503, 413, 500 ...) and it has not heard
 */
import { type Ask, type Net, NetFault, type Reply } from "../../src/ports/net";
import { CODES } from "./PaperServer";

const PLAIN = ["pass", "drop", "lost", "cut", "double", "late", "dead", "portal"] as const;
export type Fate = (typeof PLAIN)[number] | number;
export type Answering = (ask: Ask) => Promise<Reply>;

export class FakeNet implements Net {
  fates: Fate[] = [];
  /** What becomes of an exchange when no fate is left. */
  usual: Fate = "pass";
  asked: Ask[] = [];
  private late: Ask[] = [];
  private portals = 0;

  constructor(readonly server: Answering) {}

  online(): boolean {
    return (this.fates[0] ?? this.usual) !== "dead";
  }

  async ask(ask: Ask): Promise<Reply> {
    this.asked.push(ask);
    const fate = this.fates[0] ?? this.usual;
    if (fate === "dead") {
      // Whether there is signal is asked after the fault: the fate stays for that.
      queueMicrotask(() => setTimeout(() => this.fates.shift()));
      throw new NetFault("dead");
    }
    this.fates.shift();
    if (fate === "late") {
      this.late.push(ask);
      throw new NetFault("late");
    }
    if (fate === "drop") throw new NetFault("drop");
    if (fate === "portal") {
      const status = [400, 413, 415][this.portals++ % 3]!;
      return { status, text: "<html>Sign in to the network</html>", retryAfterS: null };
    }
    if (typeof fate === "number") {
      const text = JSON.stringify({ status: fate, code: CODES[fate] });
      return { status: fate, text, retryAfterS: null };
    }
    let reply = await this.server(ask);
    for (const old of this.late.splice(0)) await this.server(old);
    if (fate === "double") reply = await this.server(ask);
    if (fate === "lost") throw new NetFault("lost");
    if (fate === "cut") return { ...reply, text: reply.text.slice(0, reply.text.length / 2) };
    return reply;
  }
}
