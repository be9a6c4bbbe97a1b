/** Which photo fits the room there is, and how a telling follows photos that got another name. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { withPhotos } from "../../src/domain/hashes";
import { pickUp } from "../../src/domain/operation";
import {
  firstRung,
  free,
  isShort,
  RUNGS,
  SHORT_BYTES,
  SHORT_PART,
  SMALLEST,
} from "../../src/domain/room";

const GB = 1024 ** 3;
const sha = (digit: string) => digit.repeat(64);

describe("room", () => {
  it("is short below 50 MB, or below one part in twenty, and not where the browser says nothing", () => {
    expect(isShort({ used: 0, whole: 100 * GB })).toBe(false);
    expect(isShort({ used: 10 * GB - SHORT_BYTES, whole: 10 * GB })).toBe(true);
    expect(isShort({ used: 10 * GB * (1 - SHORT_PART) + 1, whole: 10 * GB })).toBe(true);
    expect(isShort({ used: 9 * GB, whole: 10 * GB })).toBe(false);
    expect(isShort({ used: 5, whole: 0 })).toBe(false);
    expect(firstRung(null)).toBe(0);
    expect(free({ used: 7, whole: 5 })).toBe(0);
  });

  it("less room never makes a larger photo", () => {
    const room = fc.tuple(fc.nat(10 * GB), fc.nat(10 * GB));
    fc.assert(
      fc.property(room, fc.nat(10 * GB), ([used, whole], more) => {
        expect(firstRung({ used: used + more, whole })).toBeGreaterThanOrEqual(
          whole > 0 ? firstRung({ used, whole }) : 0,
        );
      }),
    );
    for (const [i, { side, quality }] of RUNGS.entries()) {
      const before = RUNGS[i - 1] ?? { side: Number.POSITIVE_INFINITY, quality: 1 };
      expect(side < before.side || quality < before.quality).toBe(true);
      expect(side).toBeLessThanOrEqual(before.side);
    }
    expect(RUNGS[SMALLEST]?.side).toBe(400);
  });
});

describe("photos under other names", () => {
  const finding = { zone: "crown", kind: "cut", photos: [sha("a")] };
  const telling = pickUp({
    pickup: "p",
    yard: "y",
    label: sha("a"), // no list: it is no photo
    photos: [sha("a"), sha("b")],
    findings: [finding],
  } as never);

  it("are renamed and dropped in every list, and nothing else is touched", () => {
    const names = new Map([
      [sha("a"), sha("c")],
      [sha("b"), null],
    ]);
    const payload = withPhotos(telling, names).payload as never as Record<string, unknown>;
    expect(payload.photos).toEqual([sha("c")]);
    expect((payload.findings as (typeof finding)[])[0]?.photos).toEqual([sha("c")]);
    expect(payload.label).toBe(sha("a"));
    expect(withPhotos(telling, new Map())).toEqual(telling);
  });
});
