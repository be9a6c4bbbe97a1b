/** The drawn section of a truck tire: its places to tap, their lines, where marks stand. Pure. */
import type { Side, Zone } from "../../domain/operation";

/** A place on the drawing: a zone, and on which side where it has one. */
export interface Place {
  zone: Zone;
  side: Side;
}

/** As they are read and tabbed through: from the crown down each wall, the inside last. */
export const PLACES: Place[] = [
  { zone: "crown", side: "" },
  { zone: "shoulder", side: "serial" },
  { zone: "sidewall", side: "serial" },
  { zone: "bead", side: "serial" },
  { zone: "shoulder", side: "other" },
  { zone: "sidewall", side: "other" },
  { zone: "bead", side: "other" },
  { zone: "inner_liner", side: "" },
];

export const keyOf = ({ zone, side }: Place): string => (side === "" ? zone : `${zone}-${side}`);

export const isAt = (place: Place, one: Place): boolean =>
  place.zone === one.zone && place.side === one.side;

/** The drawing's own measure; the serial side is on the left, the other mirrored about the middle. */
export const WIDTH = 328;
export const HEIGHT = 260;
export const MIRROR = `translate(${WIDTH} 0) scale(-1 1)`;

/** The outline of each zone, of those with sides the left one. */
export const OUTLINES: Record<Zone, string> = {
  crown: "M126 34 Q164 29 202 34 L202 78 Q164 74 126 78 Z",
  shoulder: "M126 34 C108 35 98 37 92 42 C85 52 84 78 80 98 L110 104 C112 90 116 80 126 78 Z",
  sidewall: "M80 98 C62 126 62 158 86 190 L112 178 C96 156 97 128 110 104 Z",
  bead: "M86 190 C97 204 101 220 101 240 Q101 250 111 251 L140 251 C138 232 128 206 112 178 Z",
  inner_liner:
    "M146 251 C143 228 134 203 118 175 C103 153 104 130 116 108 C119 93 122 86 132 85 Q164 81 196 85 " +
    "C206 86 209 93 212 108 C224 130 225 153 210 175 C194 203 185 228 182 251",
};

/** Where the numbers of findings stand, in the order in which a place fills; the left ones. */
const SPOTS: Record<Zone, [number, number][]> = {
  crown: [
    [164, 58],
    [138, 58],
    [190, 58],
    [164, 86],
  ],
  shoulder: [
    [101, 64],
    [97, 92],
    [72, 60],
  ],
  sidewall: [
    [84, 142],
    [86, 170],
    [92, 115],
  ],
  bead: [
    [117, 224],
    [104, 200],
    [124, 246],
  ],
  inner_liner: [
    [164, 232],
    [140, 215],
    [188, 215],
    [164, 206],
  ],
};

/** Where the number of the nth finding of a place stands; what no longer fits stands on the last. */
export function spotOf({ zone, side }: Place, nth: number): { x: number; y: number } {
  const spots = SPOTS[zone];
  const [x, y] = spots[Math.min(nth, spots.length - 1)]!;
  return { x: side === "other" ? WIDTH - x : x, y };
}

/** Each finding's spot, in their order. */
export const spotsOf = (findings: Place[]): { x: number; y: number }[] =>
  findings.map((finding, i) =>
    spotOf(finding, findings.slice(0, i).filter((other) => isAt(finding, other)).length),
  );
