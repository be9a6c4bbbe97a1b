/**
 * A new push cookie for a phone that lost it and still has its read token: browsers write their
 * cookies down only now and then, so one that was killed soon after enrolling comes up without.
 */
import { type Deps, exchange, NoAnswer } from "./exchange";
import { readToken } from "./pins";

/** Does `work`; where the server does not know this phone, renews the cookie and does it again. */
export async function withCookie<T>(deps: Deps, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (no) {
    if (!(no instanceof NoAnswer) || no.trouble !== "device_unknown") throw no;
    const token = await readToken(deps);
    if (token === null) throw no;
    const ask = {
      method: "POST" as const,
      path: "/api/devices/renew",
      headers: {
        "content-type": "application/json",
        authorization: `Bearer ${token}`,
      },
      body: "",
      timeoutMs: 20_000,
    };
    await exchange(deps, ask, () => null);
    return await work();
  }
}
