/** A size in words, its rating apart, and what this customer has before what is usual. */
import { expect, it } from "vitest";
import { readSize } from "../../src/domain/size";
import { type Casing, casingFromRow, type Yard } from "../../src/domain/rows";
import { en } from "../../src/pickups/words.en";
import {
  brandPicks,
  ratingSaid,
  sidewallBefore,
  sidewallSaid,
  sized,
  sizeSaid,
  theirs,
} from "../../src/pickups/yard/sizeText";

const said = (typed: string) => sizeSaid(readSize(typed), en, String);
const casing = (some: Partial<Casing>): Casing => ({ ...casingFromRow("c", {}), ...some });

it.each([
  ["", "soft", en.size_hint],
  ["11r", "soft", en.size_hint],
  ["11R22.5", "good", "Reads 11R22.5: radial, for 22.5 in rims, about 1064 mm high when new."],
  ["295 75 225", "good", "Reads 295/75R22.5"],
  ["1000-20", "good", "Reads 10.00-20: bias"],
  ["29575225", "asks", en.size_found.digits_only!({})],
  ["LT245/75R16", "asks", "lighter tire"],
  ["11 22.5", "asks", "Radial or bias?"],
  ["297/75R22.5", "asks", "No truck tire is 297 wide"],
  ["blue", "asks", "kept as typed"],
  ["11R22.5 x9", "asks", "does not read as a load"],
])("%j is %s: %s", (typed, tone, text) => {
  expect(said(typed).tone).toBe(tone);
  expect(said(typed).text).toContain(text);
});

it.each([
  ["", "soft", en.rating_hint],
  ["G 144/142L", "good", "Load range G (14 ply), single 2800 kg, dual 2650 kg, up to 120 km/h."],
  ["16PR", "good", "16 ply."],
  ["160", "good", "single 4500 kg."],
  ["142/144L", "asks", "the single load stands first"],
  ["300L", "asks", "No truck tire has load index 300"],
])("rating %j is %s: %s", (typed, tone, text) => {
  expect(ratingSaid(typed, en, String)).toEqual({ tone, text: expect.stringContaining(text) });
});

it("the rating that was typed behind a size is told apart from it", () => {
  const fields = { size: "295 75 22.5 g 144/142l", rating: "", brand: "" };
  expect(sized(fields)).toEqual({ size: "295/75R22.5", rating: "G 144/142L" });
  expect(sized({ ...fields, size: "11r22.5", rating: "H" })).toEqual({
    size: "11R22.5",
    rating: "H",
  });
  expect(sized({ ...fields, size: "blue" })).toEqual({ size: "blue", rating: "" });
});

it("the sidewall before is that of the last casing whose size was told", () => {
  const before = [casing({ size: "11R22.5", brand: "Kestrel", rating: "G" }), casing({})];
  const sidewall = sidewallBefore(before);
  expect(sidewall).toEqual({ size: "11R22.5", brand: "Kestrel", rating: "G" });
  expect(sidewallSaid(sidewall!)).toBe("11R22.5 · Kestrel · G");
  expect(sidewallBefore([casing({})])).toBeNull();
});

it("a customer's casings are those of all its yards", () => {
  const yard = (id: string, customer: string) => ({ id, customer }) as Yard;
  const yards = [yard("north", "a"), yard("south", "a"), yard("other", "b")];
  const casings = ["north", "south", "other", "gone"].map((id) => casing({ id, yard: id }));
  expect(theirs(casings, yards, "north").map(({ id }) => id)).toEqual(["north", "south"]);
  expect(theirs(casings, yards, "gone").map(({ id }) => id)).toEqual(["gone"]);
});

it("brands are the customer's own, the commonest first, narrowed as one is typed", () => {
  const own = ["Kestrel", "Osprey", "Osprey", "", "Kite"].map((brand) => casing({ brand }));
  expect(brandPicks(own, "")).toEqual(["Osprey", "Kestrel", "Kite"]);
  expect(brandPicks(own, "k")).toEqual(["Kestrel", "Kite"]);
  expect(brandPicks(own, "Kite")).toEqual([]);
});
