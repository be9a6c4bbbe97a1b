/**
 * Labels from the server: new codes for this device's store, and their drawing as a PDF. Both need
 * the network; what is entered under a label never waits for either.
 */
import { type Deps, exchange, NoAnswer } from "../sync/exchange";
import { readToken } from "../sync/pins";
import { readProblem, readRoll, type Roll } from "../sync/wire";

const TIMEOUT_MS = 20_000;

/** Asks for a roll; asked again under the same id the server gives the same labels. */
export async function takeRoll(deps: Deps, asked: { id: string; count: number }): Promise<Roll> {
  const ask = {
    method: "POST" as const,
    path: "/api/labels/rolls",
    headers: await headers(deps),
    body: JSON.stringify(asked),
    timeoutMs: TIMEOUT_MS,
  };
  return await exchange(deps, ask, readRoll);
}

/** Why there is no PDF: nobody answers, or the server says why in its own words. */
export class NoPdf extends Error {
  constructor(readonly said: string | null) {
    super(said ?? "no answer");
  }
}

/** The labels drawn, each with its twin. Throws NoPdf. */
export async function drawLabels(
  deps: Deps,
  labels: string[],
  stock: "roll" | "sheet",
): Promise<Blob> {
  if (!deps.net.online()) throw new NoPdf(null);
  let response: Response;
  try {
    // A picture, not a message: the port to the server carries texts only.
    response = await fetch("/api/labels/print", {
      method: "POST",
      headers: await headers(deps),
      body: JSON.stringify({ labels, stock }),
      cache: "no-store",
      redirect: "error",
      signal: AbortSignal.timeout(TIMEOUT_MS),
    });
    if (response.ok) return await response.blob();
  } catch {
    throw new NoPdf(null);
  }
  const { faults, title, code } = readProblem(await response.text().catch(() => ""));
  const named = faults.map(({ value, allowed }) => `${value} (${allowed})`).join("; ");
  throw new NoPdf(code === "" ? null : named || title);
}

async function headers(deps: Deps): Promise<Record<string, string>> {
  const token = await readToken(deps);
  if (token === null) throw new NoAnswer("device_unknown");
  return {
    "content-type": "application/json",
    authorization: `Bearer ${token}`,
  };
}
