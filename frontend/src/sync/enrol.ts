/** Enrolling: the code that the office shows makes this phone one of its devices. */
import { type Enrolment, setEnrolled } from "../store/local";
import { wipe } from "../store/replica";
import { meta, put } from "../store/marks";
import { type Deps, exchange } from "./exchange";
import { LOCK } from "./news";
import { readEnrolled } from "./wire";

/** Keeps the device uid that this phone has; throws NoAnswer with the server's code. */
export async function enrol(deps: Deps, code: string, name: string): Promise<Enrolment> {
  const known = await meta(deps.store.outbox, "device");
  const device = typeof known === "string" ? known : deps.ids.next();
  if (known === null) await put(deps.store.outbox, "device", device);
  const ask = {
    method: "POST" as const,
    path: "/api/devices/enrol",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ code, device, name }),
    timeoutMs: 20_000,
  };
  const said = await exchange(deps, ask, readEnrolled);
  const enrolment: Enrolment = {
    device: said.device,
    name: said.name,
    site: said.site.id,
    site_name: said.site.name,
    read_token: said.read_token,
  };
  // Another site's rows are not this one's: the first pull brings them afresh. No run may be in
  // the middle of a page meanwhile.
  await deps.locks.hold(LOCK, async () => {
    await wipe(deps.store.replica);
    await setEnrolled(deps.store.local, enrolment, said.export_key);
    if (deps.opened) deps.opened.token = null;
  });
  await deps.storage.persist();
  return enrolment;
}
