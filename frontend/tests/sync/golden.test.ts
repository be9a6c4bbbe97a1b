/** What goes over the wire is, field by field, what the golden messages say. */
import { describe, expect, it } from "vitest";
import {
  countScrap,
  deliver,
  emptyTrailer,
  finishDelivery,
  finishPickup,
  handOver,
  leaveHere,
  pickUp,
  remind,
  type Telling,
  withdraw,
} from "../../src/domain/operation";
import { countIn, cureLoad, tell } from "../../src/domain/plantTelling";
import { addStop, arrive, countLoad, resume, skipStop } from "../../src/domain/runTelling";
import { put } from "../../src/store/marks";
import {
  pullBody,
  pushBody,
  readEnrolled,
  readPhotoAnswer,
  readProblem,
  readPullPage,
  readPushAnswer,
} from "../../src/sync/wire";
import { golden } from "../golden/read";
import { rig } from "../sim/rig";

/** What this app makes, in the order of their numbers. */
const NAMES = [
  "custody.withdraw.v1",
  "custody.hand_over.v1",
  "custody.pick_up.v4",
  "custody.pick_up.v4.counter",
  "custody.deliver.v2",
  "custody.count_scrap.v1",
  "custody.count_scrap.v1.corrects",
  "custody.leave_here.v1",
  "custody.finish_pickup.v5",
  "custody.finish_delivery.v5",
  "custody.empty_trailer.v1",
  "runs.arrive.v1",
  "runs.skip.v1",
  "runs.resume.v1",
  "runs.add_stop.v1",
  "runs.count_load.v1",
  "custody.remind.v1",
  "curing.load.v1",
  "inspection.tell.v1",
  "dock.count_in.v1",
];
// biome-ignore lint/suspicious/noExplicitAny: a golden payload is whatever the file says
const MAKERS: Record<string, (payload: any) => Telling> = {
  "custody.withdraw": withdraw,
  "custody.hand_over": handOver,
  "custody.pick_up": pickUp,
  "custody.count_scrap": countScrap,
  "custody.leave_here": leaveHere,
  "custody.finish_pickup": finishPickup,
  "custody.empty_trailer": emptyTrailer,
  "custody.deliver": deliver,
  "custody.remind": remind,
  "custody.finish_delivery": finishDelivery,
  "runs.arrive": arrive,
  "runs.skip": skipStop,
  "runs.resume": resume,
  "runs.add_stop": addStop,
  "runs.count_load": countLoad,
  "inspection.tell": tell,
  "curing.load": cureLoad,
  "dock.count_in": countIn,
};

describe("golden messages", () => {
  it("a day's operations come out as the golden ones, stamped and numbered by the phone", async () => {
    const r = rig({ ids: [golden(NAMES[0]!).incarnation] });
    const phone = await r.phone();
    const { outbox } = phone.deps.store;
    for (const name of NAMES) {
      const { id, kind, payload, sequence, stamp, happened_at } = golden(name);
      r.clock.set(happened_at);
      await put(outbox, "offset", stamp - Date.parse(happened_at));
      await outbox.put("meta", { key: "sequence", value: sequence - 1 });
      await phone.tell(MAKERS[kind]!(payload), id);
    }
    const { entries } = await phone.told();
    expect(entries.map((entry) => JSON.parse(entry.body))).toEqual(NAMES.map(golden));
    r.clock.set(golden("push.request").sent_at);
    await phone.sync();
    const batch = golden("push.request");
    expect(JSON.parse(r.net.asked[0]!.body as string)).toEqual({
      ...batch,
      operations: NAMES.map(golden),
    });
    phone.close();
  });

  it("a push body holds the entered strings untouched", () => {
    expect(JSON.parse(pushBody("2026-04-14T14:02:10.900Z", ['{"a":1}', '{"b":2}']))).toEqual({
      protocol: 1,
      sent_at: "2026-04-14T14:02:10.900Z",
      operations: [{ a: 1 }, { b: 2 }],
    });
  });

  it("a push answer is read with every outcome", () => {
    const message = golden("push.answer");
    const answer = readPushAnswer(JSON.stringify(message));
    expect(answer.answers.map((a) => a?.outcome)).toEqual(
      message.answers.map((a: { outcome: string }) => a.outcome),
    );
    expect(answer.answers[0]).toMatchObject({ repeat: true, position: "7421", code: null });
    expect(answer.answers[4]).toMatchObject({ field: "sequence", value: "0" });
    expect(answer.answers[5]!.id).toBeNull();
    expect(answer.missingPhotos).toEqual(message.missing_photos);
    expect(answer.serverTimeMs).toBe(Date.parse(message.server_time));
  });

  it("an outcome of a later version is read as no answer, the others stand", () => {
    const message = golden("push.answer");
    message.answers[0].outcome = "adjourned";
    const answer = readPushAnswer(JSON.stringify(message));
    expect(answer.answers[0]).toBeNull();
    expect(answer.answers[1]!.outcome).toBe("accepted");
  });

  it("a page is read with rows, drops and horizon", () => {
    const message = golden("pull.page");
    const page = readPullPage(JSON.stringify(message));
    expect(page).toMatchObject({ cursor: "eyJ9", horizon: "7440", more: false, forget: [] });
    expect(page.rows).toHaveLength(message.rows.length);
    expect(page.rows.at(-1)).toMatchObject({ gone: true, body: null });
    expect(page.rows[1]!.body).toEqual(message.rows[1].body);
  });

  it("a pull asks as the golden request", () => {
    expect(JSON.parse(pullBody(null))).toEqual(golden("pull.request"));
  });

  it("enrolment asks and reads as the golden messages", async () => {
    const request = golden("enrol.request");
    const r = rig();
    const phone = await r.phone();
    await put(phone.deps.store.outbox, "device", request.device);
    await phone.enrol(request.code, request.name);
    expect(JSON.parse(r.net.asked[0]!.body as string)).toEqual(request);
    expect(readEnrolled(JSON.stringify(golden("enrol.answer")))).toEqual(golden("enrol.answer"));
    phone.close();
  });

  it("a photo's answer and a problem are read", () => {
    const { sha256 } = golden("photo.answer");
    expect(readPhotoAnswer(JSON.stringify(golden("photo.answer")))).toEqual({ sha256, here: true });
    const problem = readProblem(JSON.stringify(golden("problem")));
    expect(problem.code).toBe("malformed");
    expect(problem.faults[0]!.field).toBe("limit");
    expect(readProblem("<html>")).toEqual({ code: "", title: "", faults: [] });
  });
});
