/**
 * A QR of the smallest kind, for a short text without network: version 1, level H, alphanumeric
 * (ISO/IEC 18004): at most ten of the 45 characters. One mask for all, as on labels. Pure.
 *
 * fixtures/vectors/tickets.json holds it to what the server's own encoder draws.
 */

const SIDE = 21;
const DATA_BYTES = 9;
const CHECK_BYTES = 17;
const MOST = 10;
const CHARACTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";
/** Level H (10), mask 3 (011), with their own check bits and mask (ISO/IEC 18004, 7.9.1). */
const FORMAT = formatBits(0b10011);

/** The modules, row by row; true is dark. Throws where the text is too long or holds another sign. */
export function qr(text: string): boolean[][] {
  const data = dataBytes(text);
  const bytes = [...data, ...checkBytes(data)];
  const drawn = frame();
  let bit = 0;
  for (const [row, column] of zigzag(drawn)) {
    const dark = ((bytes[bit >> 3]! >> (7 - (bit & 7))) & 1) === 1;
    drawn[row]![column] = dark !== ((row + column) % 3 === 0);
    bit++;
  }
  return drawn.map((line) => line.map((module) => module === true));
}

function dataBytes(text: string): number[] {
  const values = [...text].map((c) => CHARACTERS.indexOf(c));
  if (values.length > MOST || values.includes(-1)) throw new Error(`no such QR: ${text}`);
  let bits = `0010${binary(values.length, 9)}`;
  for (let i = 0; i < values.length; i += 2) {
    const [first = 0, second] = values.slice(i, i + 2);
    bits += second === undefined ? binary(first, 6) : binary(first * 45 + second, 11);
  }
  bits = `${bits}0000`.slice(0, DATA_BYTES * 8);
  bits = bits.padEnd(Math.ceil(bits.length / 8) * 8, "0");
  const bytes = (bits.match(/.{8}/g) ?? []).map((byte) => Number.parseInt(byte, 2));
  for (let pad = 0; bytes.length < DATA_BYTES; pad++) bytes.push(pad % 2 === 0 ? 0xec : 0x11);
  return bytes;
}

const binary = (value: number, width: number): string => value.toString(2).padStart(width, "0");

/** Reed-Solomon over GF(256) with 0x11d: the rest of the division by the generator. */
function checkBytes(data: number[]): number[] {
  const rest: number[] = Array(CHECK_BYTES).fill(0);
  for (const byte of data) {
    const factor = byte ^ rest.shift()!;
    rest.push(0);
    for (let i = 0; i < CHECK_BYTES; i++) rest[i] = rest[i]! ^ product(GENERATOR[i]!, factor);
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
const GENERATOR = ((): number[] => {
  let made = [1];
  let root = 1;
  for (let i = 0; i < CHECK_BYTES; i++) {
    const times = made.map((coefficient) => product(coefficient, root));
    made = [...made, 0].map((coefficient, at) => coefficient ^ (times[at - 1] ?? 0));
    root = product(root, 2);
  }
  return made.slice(1);
})();

type Frame = (boolean | null)[][];

/** Finders, timing and format; null where the data goes. */
function frame(): Frame {
  const drawn: Frame = Array.from({ length: SIDE }, () => Array(SIDE).fill(null));
  for (const [top, left] of [
    [0, 0],
    [0, SIDE - 7],
    [SIDE - 7, 0],
  ] as const) {
    for (let y = -1; y <= 7; y++) {
      for (let x = -1; x <= 7; x++) {
        if (drawn[top + y]?.[left + x] === undefined) continue;
        const ring = Math.max(Math.abs(y - 3), Math.abs(x - 3));
        drawn[top + y]![left + x] = ring !== 2 && ring < 4;
      }
    }
  }
  for (let i = 8; i < SIDE - 8; i++) {
    drawn[6]![i] = i % 2 === 0;
    drawn[i]![6] = i % 2 === 0;
  }
  for (let i = 0; i < 15; i++) {
    const dark = ((FORMAT >> i) & 1) === 1;
    drawn[i < 6 ? i : i < 8 ? i + 1 : SIDE - 15 + i]![8] = dark;
    drawn[8]![i < 8 ? SIDE - 1 - i : i < 9 ? 7 : 14 - i] = dark;
  }
  drawn[SIDE - 8]![8] = true;
  return drawn;
}

/** The places of the data, two columns at a time from the right, up and down. */
function* zigzag(drawn: Frame): Generator<[number, number]> {
  let up = true;
  for (let right = SIDE - 1; right > 0; right -= 2, up = !up) {
    if (right === 6) right = 5;
    for (let i = 0; i < SIDE; i++) {
      const row = up ? SIDE - 1 - i : i;
      for (const column of [right, right - 1])
        if (drawn[row]![column] === null) yield [row, column];
    }
  }
}

function formatBits(value: number): number {
  let rest = value << 10;
  for (let i = 14; i >= 10; i--) if ((rest >> i) & 1) rest ^= 0x537 << (i - 10);
  return ((value << 10) | rest) ^ 0x5412;
}
