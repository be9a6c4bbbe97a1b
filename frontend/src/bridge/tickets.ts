/** A drop-off's ticket as a PDF: drawn by the server, so it needs the network and what was sent. */
import { type Deps, NoAnswer } from "../sync/exchange";
import { readToken } from "../sync/pins";

const TIMEOUT_MS = 20_000;

/** Null where there is none now: no connection, or the drop-off is not there yet, or waits. */
export async function drawTicket(
  deps: Deps,
  visit: string,
  language: string,
): Promise<Blob | null> {
  if (!deps.net.online()) return null;
  try {
    const token = await readToken(deps);
    if (token === null) throw new NoAnswer("device_unknown");
    // A picture, not a message: the port to the server carries texts only.
    const response = await fetch(`/api/tickets/${visit}?language=${language}`, {
      headers: { authorization: `Bearer ${token}` },
      cache: "no-store",
      redirect: "error",
      signal: AbortSignal.timeout(TIMEOUT_MS),
    });
    return response.ok ? await response.blob() : null;
  } catch {
    return null;
  }
}
