/**
 * A QR without network for a short text in capitals: alphanumeric, one block (ISO/IEC 18004). Ten
 * signs stand in the smallest with the strongest correction; an address, which is read from a clean
 * screen, takes the strongest in which it fits. One mask for all, as on labels. Pure.
 *
 * fixtures/vectors/tickets.json and receipt_links.json hold it to what the server's encoder draws.
 */

/** A version and level of one block: its bits for the format, its bytes, how many signs it takes. */
interface Shape {
  version: number;
  level: number;
  data: number;
  check: number;
  most: number;
}

/** Table 7 and 9 of the standard; M is 00, L is 01, H is 10. */
const SHAPES: Shape[] = [
  { version: 1, level: 0b10, data: 9, check: 17, most: 10 },
  { version: 3, level: 0b00, data: 44, check: 26, most: 61 },
  { version: 3, level: 0b01, data: 55, check: 15, most: 77 },
  { version: 4, level: 0b01, data: 80, check: 20, most: 114 },
  { version: 5, level: 0b01, data: 108, check: 26, most: 154 },
];
const MASK = 0b011;
const CHARACTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

/** The modules, row by row; true is dark. Throws where the text is too long or holds another sign. */
export function qr(text: string): boolean[][] {
  const shape = SHAPES.find(({ most }) => text.length <= most);
  if (shape === undefined) throw new Error(`no such QR: ${text}`);
  const data = dataBytes(text, shape.data);
  const bytes = [...data, ...checkBytes(data, shape.check)];
  const drawn = frame(shape);
  let bit = 0;
  for (const [row, column] of zigzag(drawn)) {
    // What is left over behind the last byte is light.
    const dark = (((bytes[bit >> 3] ?? 0) >> (7 - (bit & 7))) & 1) === 1;
    drawn[row]![column] = dark !== ((row + column) % 3 === 0);
    bit++;
  }
  return drawn.map((line) => line.map((module) => module === true));
}

function dataBytes(text: string, size: number): number[] {
  const values = [...text].map((c) => CHARACTERS.indexOf(c));
  if (values.includes(-1)) throw new Error(`no such QR: ${text}`);
  let bits = `0010${binary(values.length, 9)}`;
  for (let i = 0; i < values.length; i += 2) {
    const [first = 0, second] = values.slice(i, i + 2);
    bits += second === undefined ? binary(first, 6) : binary(first * 45 + second, 11);
  }
  bits = `${bits}0000`.slice(0, size * 8);
  bits = bits.padEnd(Math.ceil(bits.length / 8) * 8, "0");
  const bytes = (bits.match(/.{8}/g) ?? []).map((byte) => Number.parseInt(byte, 2));
  for (let pad = 0; bytes.length < size; pad++) bytes.push(pad % 2 === 0 ? 0xec : 0x11);
  return bytes;
}

const binary = (value: number, width: number): string => value.toString(2).padStart(width, "0");

/** Reed-Solomon over GF(256) with 0x11d: the rest of the division by the generator. */
function checkBytes(data: number[], size: number): number[] {
  const divisor = generator(size);
  const rest: number[] = Array(size).fill(0);
  for (const byte of data) {
    const factor = byte ^ rest.shift()!;
    rest.push(0);
    for (let i = 0; i < size; i++) rest[i] = rest[i]! ^ product(divisor[i]!, factor);
  }
  return rest;
}

function product(a: number, b: number): number {
  let result = 0;
  for (let i = 7; i >= 0; i--) {
    result = (result << 1) ^ ((result >> 7) * 0x11d);
    if ((b >> i) & 1) result ^= a;
  }
  return result;
}

/** The generator's coefficients below the highest, which is one. */
function generator(size: number): number[] {
  let made = [1];
  let root = 1;
  for (let i = 0; i < size; i++) {
    const times = made.map((coefficient) => product(coefficient, root));
    made = [...made, 0].map((coefficient, at) => coefficient ^ (times[at - 1] ?? 0));
    root = product(root, 2);
  }
  return made.slice(1);
}

type Frame = (boolean | null)[][];

/** Finders, the alignment pattern from version 2 on, timing and format; null where data goes. */
function frame({ version, level }: Shape): Frame {
  const side = 17 + 4 * version;
  const drawn: Frame = Array.from({ length: side }, () => Array(side).fill(null));
  for (const [top, left] of [
    [0, 0],
    [0, side - 7],
    [side - 7, 0],
  ] as const) {
    for (let y = -1; y <= 7; y++) {
      for (let x = -1; x <= 7; x++) {
        if (drawn[top + y]?.[left + x] === undefined) continue;
        const ring = Math.max(Math.abs(y - 3), Math.abs(x - 3));
        drawn[top + y]![left + x] = ring !== 2 && ring < 4;
      }
    }
  }
  for (let y = -2; version > 1 && y <= 2; y++) {
    for (let x = -2; x <= 2; x++)
      drawn[side - 7 + y]![side - 7 + x] = Math.max(Math.abs(y), Math.abs(x)) !== 1;
  }
  const format = formatBits((level << 3) | MASK);
  for (let i = 8; i < side - 8; i++) {
    drawn[6]![i] = i % 2 === 0;
    drawn[i]![6] = i % 2 === 0;
  }
  for (let i = 0; i < 15; i++) {
    const dark = ((format >> i) & 1) === 1;
    drawn[i < 6 ? i : i < 8 ? i + 1 : side - 15 + i]![8] = dark;
    drawn[8]![i < 8 ? side - 1 - i : i < 9 ? 7 : 14 - i] = dark;
  }
  drawn[side - 8]![8] = true;
  return drawn;
}

/** The places of the data, two columns at a time from the right, up and down. */
function* zigzag(drawn: Frame): Generator<[number, number]> {
  const side = drawn.length;
  let up = true;
  for (let right = side - 1; right > 0; right -= 2, up = !up) {
    if (right === 6) right = 5;
    for (let i = 0; i < side; i++) {
      const row = up ? side - 1 - i : i;
      for (const column of [right, right - 1])
        if (drawn[row]![column] === null) yield [row, column];
    }
  }
}

/** With their own check bits and mask (7.9.1). */
function formatBits(value: number): number {
  let rest = value << 10;
  for (let i = 14; i >= 10; i--) if ((rest >> i) & 1) rest ^= 0x537 << (i - 10);
  return ((value << 10) | rest) ^ 0x5412;
}
