/** A sheet that was entered just before a kill leaves nothing behind; one that was not, stays. */
import { expect, it } from "vitest";
import { dropLeftovers } from "../../src/store/leftovers";
import { draft, draftPhotos, keepDraft, keepDraftPhoto } from "../../src/store/local";
import { casing, rig } from "../sim/rig";

const kept = (key: string, id: string) => ({
  key,
  id,
  fields: { signer: "R. Amsel" },
  changed_at: 1,
});
const drawn = (key: string) => ({ sha256: "a".repeat(64), draft: key, blob: new Blob(["x"]) });

it("what was entered is dropped with its drawing, what was not is kept with its own", async () => {
  const phone = await rig().phone();
  const { local } = phone.deps.store;
  const entered = await phone.pickUp(casing());
  await keepDraft(local, kept("finish:p", entered));
  await keepDraftPhoto(local, drawn("finish:p"));
  await keepDraft(local, kept("finish:q", "01963b1c-7a00-7c3e-8d21-5a0f3c6effff"));
  await keepDraftPhoto(local, drawn("finish:q"));
  for (const _ of [1, 2]) {
    await dropLeftovers(phone.deps.store);
    expect(await draft(local, "finish:p")).toBeNull();
    expect(await draftPhotos(local, "finish:p")).toEqual([]);
    expect((await draft(local, "finish:q"))?.fields).toEqual({ signer: "R. Amsel" });
    expect(await draftPhotos(local, "finish:q")).toHaveLength(1);
  }
  phone.close();
});

it("what the server has answered for counts as entered too", async () => {
  const phone = await rig().phone();
  const entered = await phone.pickUp(casing());
  await phone.sync();
  await keepDraft(phone.deps.store.local, kept("casing:p", entered));
  await dropLeftovers(phone.deps.store);
  expect(await draft(phone.deps.store.local, "casing:p")).toBeNull();
  phone.close();
});
