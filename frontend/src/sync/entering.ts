/**
 * Entering: the one way by which anything a person tells becomes an operation. It resolves when
 * the operation and its photos are on the disk, and never waits for the network.
 */
import { envelope, OPERATION_BYTES, type Telling } from "../domain/operation";
import { enter } from "../store/outbox";
import type { Photo } from "../store/outbox.schema";
import type { Deps } from "./exchange";

export interface Entered {
  /** Made when the sheet was opened, so that saving the same sheet twice enters one operation. */
  id: string;
  telling: Telling;
  by: string;
  photos: Photo[];
}

export class TooLong extends Error {}

/** Text as every database can keep it: no U+0000, no half of a surrogate pair. */
const storable = (_: string, value: unknown): unknown =>
  typeof value === "string"
    ? value.replaceAll("\u0000", "").replace(/\p{Surrogate}/gu, "\ufffd")
    : value;

export async function enterOperation(deps: Deps, told: Entered): Promise<"entered" | "was_there"> {
  const at = deps.clock.now();
  return await enter(deps.store.outbox, {
    id: told.id,
    photos: told.photos,
    clockMs: at,
    newIncarnation: deps.ids.next(),
    write(place) {
      const body = JSON.stringify(envelope({ id: told.id, ...place }, { ...told, at }), storable);
      if (new TextEncoder().encode(body).length > OPERATION_BYTES) throw new TooLong();
      return body;
    },
  });
}
