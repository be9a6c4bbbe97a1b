/** What a person tells, in the versions that the shipped app makes. */
import * as made from "../../src/domain/operation";
import * as road from "../../src/domain/runTelling";

type Maker = (payload: never) => made.Telling;

const MAKERS: Record<string, Maker> = {
  "custody.pick_up": made.pickUp,
  "custody.withdraw": made.withdraw,
  "custody.relabel": made.relabel,
  "custody.count_scrap": made.countScrap,
  "custody.leave_here": made.leaveHere,
  "custody.finish_pickup": made.finishPickup,
  "custody.hand_over": made.handOver,
  "custody.deliver": made.deliver,
  "custody.finish_delivery": made.finishDelivery,
  "custody.empty_trailer": made.emptyTrailer,
  "custody.remind": made.remind,
  "runs.arrive": road.arrive,
  "runs.skip": road.skipStop,
  "runs.resume": road.resume,
  "runs.add_stop": road.addStop,
  "runs.count_load": road.countLoad,
};

export function telling(kind: string, payload: unknown): made.Telling {
  const maker = Object.hasOwn(MAKERS, kind) ? MAKERS[kind] : undefined;
  if (maker === undefined) throw new Error(`no such kind: ${kind}`);
  return maker(payload as never);
}
