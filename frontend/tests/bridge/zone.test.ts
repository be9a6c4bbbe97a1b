/** A phone that pulls afresh keeps the dealer's day meanwhile. */
import { afterEach, expect, it } from "vitest";
import { snapshot } from "../../src/bridge/snapshot";
import { inZone, reckonIn } from "../../src/domain/days";
import { take, wipe } from "../../src/store/replica";
import { rig } from "../sim/rig";

afterEach(() => reckonIn(""));

it("the last zone that was told stands until the sites have come again", async () => {
  const phone = await rig().phone();
  const { store } = phone.deps;
  const body = { name: "Bramblewick store", kind: "store", time_zone: "Australia/Adelaide" };
  const site = { scope: "dealer", entity: "site", id: "s", version: 1, gone: false, body };
  const page = { epoch: "e", cursor: "c", horizon: "9", more: false, forget: [], rows: [site] };
  const look = () => snapshot(store, { token: null, person: null });
  await take(store.replica, page);
  await look();
  expect(inZone()).toEqual({ timeZone: "Australia/Adelaide" });
  await wipe(store.replica);
  await look();
  expect(inZone()).toEqual({ timeZone: "Australia/Adelaide" });
  phone.close();
});
