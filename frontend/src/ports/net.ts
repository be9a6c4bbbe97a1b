/**
 * The way to the server. An answer of any status is an answer; everything else is a NetFault,
 * after which nobody knows whether the server has heard.
 */

export interface Ask {
  method: "POST" | "PUT";
  path: string;
  headers: Record<string, string>;
  body: string | Blob;
  timeoutMs: number;
}

export interface Reply {
  status: number;
  text: string;
  /** Seconds that the server asks to wait (Retry-After), where it does. */
  retryAfterS: number | null;
}

export interface Net {
  /** False only where the device itself knows that it has no signal. */
  online(): boolean;
  ask(ask: Ask): Promise<Reply>;
}

export class NetFault extends Error {}

type Fetch = (input: string, init: RequestInit) => Promise<Response>;

/** fetch as a Net; `base` and `fetcher` are for hosts outside a browser. */
export function fetchNet(base = "", fetcher: Fetch = (i, init) => fetch(i, init)): Net {
  return {
    online: () => (typeof navigator === "undefined" ? true : navigator.onLine !== false),
    async ask({ method, path, headers, body, timeoutMs }) {
      try {
        const response = await fetcher(base + path, {
          method,
          headers,
          body,
          cache: "no-store",
          credentials: "same-origin",
          redirect: "error", // a hotel's sign-in page is not our server
          signal: AbortSignal.timeout(timeoutMs),
        });
        const text = await response.text();
        return { status: response.status, text, retryAfterS: retryAfter(response.headers) };
      } catch (cause) {
        throw new NetFault("no answer", { cause });
      }
    },
  };
}

/** Retry-After (RFC 9110, section 10.2.3): seconds or a date. */
function retryAfter(headers: Headers): number | null {
  const said = headers.get("retry-after");
  if (said === null) return null;
  if (/^\d+$/.test(said.trim())) return Number(said);
  const at = Date.parse(said);
  const from = Date.parse(headers.get("date") ?? "") || Date.now();
  return Number.isNaN(at) ? null : Math.max(0, (at - from) / 1000);
}
