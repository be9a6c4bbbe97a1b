/** Who signed, for which list, or why nobody did: what may be told, and how. */
import { createHash } from "node:crypto";
import { expect, it } from "vitest";
import type { Camera } from "../../../src/ports/camera";
import { lastEnd } from "../../../src/pickups/signing/lastEnd";
import {
  BLANK_SIGNING,
  daysSaid,
  drawing,
  ENDINGS,
  endedAs,
  endingOf,
  otherPhotos,
  promisedTogether,
  readBy,
  type SigningFields,
  signedAnother,
  signedFor,
  signedSaid,
  signingFault,
} from "../../../src/pickups/signing/signing";
import { en } from "../../../src/pickups/words.en";
import { es } from "../../../src/pickups/words.es";
import { golden } from "../../golden/read";

const LINES = [
  { label: "K72K6P0D", on: "2026-04-28" },
  { label: "K72K54X2", on: "2026-04-24" },
];
const TEXT = "K72K54X2 2026-04-24\nK72K6P0D 2026-04-28";
const photo = (sha256: string) => ({ sha256, draft: "finish:p", blob: new Blob([sha256]) });
const sheet = (fields: Partial<SigningFields>, photos: string[] = []) => ({
  fields: { ...BLANK_SIGNING, ...fields },
  photos: photos.map(photo),
});

const camera: Camera = {
  develop: async (blob) => ({ blob, rung: 0 }),
  hash: async (blob) =>
    createHash("sha256")
      .update(Buffer.from(await blob.arrayBuffer()))
      .digest("hex"),
};

it("nothing is told without a name or the reason why there is none", () => {
  expect(signingFault(sheet({ signer: "  " }), LINES, en)).toEqual({
    at: "signer",
    said: en.sign_name_missing,
  });
  expect(signingFault(sheet({ signer: "R. Amsel", covers: TEXT }), LINES, en)).toBeNull();
});

it("they will not sign: a reason of the list, and words where it is another one", () => {
  const refuses = (fields: Partial<SigningFields>) =>
    signingFault(sheet({ ...endedAs("refuses"), ...fields }), LINES, en)?.at;
  expect(refuses({})).toBe("refused");
  expect(refuses({ unsigned: "they say forty" })).toBe("refused");
  expect(refuses({ refused: "count" })).toBeUndefined();
  expect(refuses({ refused: "other", unsigned: " " })).toBe("unsigned");
  expect(refuses({ refused: "other", unsigned: "in a hurry" })).toBeUndefined();
});

it("nobody is there: that is the reason, and no name of before is told", async () => {
  const nobody = sheet({ ...endedAs("nobody"), signer: "R. Amsel", refused: "count" });
  expect(signingFault(nobody, LINES, en)).toBeNull();
  const { told } = await signedFor(nobody, LINES, camera);
  expect(told).toMatchObject({ nobody_there: true, refused: "", signer: "", signature: null });
  expect(signedSaid(told, en)).toBe(en.unsigned_nobody);
});

it("each ending is one of three, whatever the sheet went through", () => {
  for (const ending of ENDINGS)
    expect(endingOf({ ...BLANK_SIGNING, ...endedAs("nobody"), ...endedAs(ending) })).toBe(ending);
});

it("why nobody signed is said in the language asked for, and in their words", () => {
  const told = { refused: "count" as const, unsigned: "they say fifteen" };
  expect(signedSaid(told, en)).toBe(
    "They would not sign: they dispute the count. they say fifteen",
  );
  expect(signedSaid(told, es)).toContain("no aceptan la cuenta");
  expect(signedSaid({ unsigned: "no one here" }, en)).toBe("Not signed: no one here");
  expect(signedSaid({}, en)).toBeNull();
});

it("a drawing without a name is not enough", () => {
  expect(signingFault(sheet({ drawn: ["a"], covers: TEXT }, ["a"]), LINES, en)?.at).toBe("signer");
});

it("who signed one list has not signed another", () => {
  const signed = sheet({ signer: "R. Amsel", covers: TEXT });
  const more = [...LINES, { label: "K7000Y02", on: "" }];
  expect(signingFault(signed, more, en)).toEqual({ at: "sign-again", said: en.sign_again });
  const later = LINES.map((line) => ({ ...line, on: "2026-04-29" }));
  expect(signingFault(signed, later, en)?.at).toBe("sign-again");
  expect(signedAnother(signed, [...LINES].reverse()), "the order is nobody's").toBe(false);
  expect(signedAnother(sheet({ covers: TEXT }), more), "nobody has signed yet").toBe(false);
  expect(signedAnother(sheet({ drawn: ["a"], covers: TEXT }, ["a"]), more)).toBe(true);
});

it("the last drawing counts as long as it is there; the others are no photos either", () => {
  const drawn = sheet({ drawn: ["a", "b"] }, ["a", "b", "c"]);
  expect(drawing(drawn)?.sha256).toBe("b");
  expect(otherPhotos(drawn).map((one) => one.sha256)).toEqual(["c"]);
  expect(drawing(sheet({ drawn: ["a", "b"] }, ["a"]))).toBeNull();
  expect(drawing(sheet({}, ["c"]))).toBeNull();
});

it("it is told as the golden messages say, with the drawing beside it", async () => {
  const { signer, unsigned, shown } = golden("custody.finish_pickup.v2").payload;
  const lines = ["custody.pick_up.v2", "custody.pick_up.v2.counter"].map((name) => {
    const { label, promised } = golden(name).payload;
    return { label, on: promised.on };
  });
  const signed = await signedFor(
    sheet({ signer: ` ${signer} `, signed_in: "es", drawn: ["a"] }, ["a"]),
    lines,
    camera,
  );
  expect(signed.told).toEqual({
    nobody_there: false,
    refused: "",
    signer,
    signed_in: "es",
    unsigned,
    signature: "a",
    shown,
  });
  expect(signed.photos.map((one) => one.sha256)).toEqual(["a"]);
});

it("where nobody signs, neither name nor drawing is told, and the list all the same", async () => {
  const fields: Partial<SigningFields> = {
    ...endedAs("refuses"),
    refused: "authority",
    unsigned: " no one here ",
    signer: "R. Amsel",
    drawn: ["a"],
  };
  const { told, photos } = await signedFor(sheet(fields, ["a"]), LINES, camera);
  expect(told).toEqual({
    nobody_there: false,
    refused: "authority",
    signer: "",
    signed_in: "",
    unsigned: "no one here",
    signature: null,
    shown: createHash("sha256").update(TEXT).digest("hex"),
  });
  expect(photos).toEqual([]);
});

it("the promised days together: the last counts, and those without are counted", () => {
  expect(promisedTogether(LINES)).toEqual({ last: "2026-04-28", same: false, open: 0 });
  expect(promisedTogether([LINES[0]!, { label: "A", on: "2026-04-28" }]).same).toBe(true);
  expect(promisedTogether([...LINES, { label: "A", on: "" }]).open).toBe(1);
  expect(promisedTogether([{ label: "A", on: "" }])).toEqual({ last: "", same: true, open: 1 });
});

it("what this phone told of a visit's end is found again, the last of it", () => {
  const body = (name: string, but: object = {}) => {
    const message = golden(name);
    return { body: JSON.stringify({ ...message, payload: { ...message.payload, ...but } }) };
  };
  const { pickup } = golden("custody.finish_pickup.v2").payload;
  const { delivery } = golden("custody.finish_delivery.v2").payload;
  const entries = [
    body("custody.finish_pickup.v2"),
    body("custody.finish_pickup.v2", { signer: "N. Other", pickup: delivery.replace(/.$/, "f") }),
    body("custody.finish_delivery.v2"),
    body("custody.pick_up.v2"),
  ];
  expect(lastEnd(entries, pickup)?.signer).toBe("R. Amsel");
  expect(lastEnd(entries, delivery)?.unsigned).toBe("nobody at the gate would sign");
  expect(
    lastEnd([...entries, body("custody.finish_pickup.v2", { signer: "B" })], pickup)?.signer,
  ).toBe("B");
  expect(lastEnd(entries, "nobody's")).toBeNull();
});

it("what stands beside a label is no part of what is signed", async () => {
  const beside = LINES.map((line) => ({ ...line, said: "11R22.5 · cut", stop: "Stop: cord" }));
  const signed = sheet({ signer: "R. Amsel", covers: TEXT });
  expect(signedAnother(signed, beside)).toBe(false);
  const plain = await signedFor(signed, LINES, camera);
  expect((await signedFor(signed, beside, camera)).told.shown).toBe(plain.told.shown);
});

it("a list turned into another language is signed in it, even where the name came first", async () => {
  const named = { signer: "R. Amsel", signed_in: "en" as const };
  const read = { ...named, ...readBy("es", "en") };
  expect((await signedFor(sheet(read), LINES, camera)).told.signed_in).toBe("es");
  // The phone is back with its holder, who turns it to read it.
  const back = { ...read, ...readBy("en", "en") };
  expect((await signedFor(sheet(back), LINES, camera)).told.signed_in).toBe("es");
});

it("the days of a list are each casing's own: by when all are together is the forecast's word", () => {
  const fourteen = Array.from({ length: 14 }, (_, i) => ({
    label: `${i}`,
    on: i === 0 ? "2026-04-24" : "2026-04-28",
  }));
  for (const [w, together] of [
    [en, "together"],
    [es, "juntas"],
  ] as const) {
    for (const list of [fourteen, fourteen.slice(1), fourteen.slice(1, 2)])
      expect(daysSaid(list, w, (day) => day)).not.toMatch(/together|\ball\b|junt|tod[oa]/i);
    const signed = `${daysSaid(fourteen, w, (day) => day)}. ${w.offer_together(14, "Tue", "9 of 10")}`;
    expect(signed.split(together)).toHaveLength(2);
  }
  expect(daysSaid(fourteen, en, (day) => day)).toMatch(
    /^Each promised for its own day, the latest .*28/,
  );
  expect(daysSaid(fourteen.slice(1), es, (day) => day)).toMatch(/^Cada una prometida para el .*28/);
  expect(daysSaid(fourteen.slice(1, 2), en, (day) => day)).toMatch(/^Promised for .*28/);
  expect(daysSaid([...fourteen, { label: "A", on: "" }], en, (day) => day)).toMatch(
    /, 1 without a promised day$/,
  );
});
