/**
 * The browser's reader over pictures from a file, for the bench of the labels: grey pictures of one
 * size laid end to end. Prints what each of the scanner's stages reads, a JSON line a picture, and
 * how long both took. Used as: node read_pictures.mjs FILE WIDTH HEIGHT
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { prepareZXingModule, readBarcodes } from "zxing-wasm/reader";

const { resolve } = createRequire(import.meta.url);
const stages = JSON.parse(readFileSync(new URL("../../src/bridge/stages.json", import.meta.url)));
const [file, w, h] = process.argv.slice(2);
const [width, height] = [Number(w), Number(h)];
const all = readFileSync(file);
await prepareZXingModule({
  overrides: { wasmBinary: readFileSync(resolve("zxing-wasm/reader/zxing_reader.wasm")) },
  fireImmediately: true,
});

const picture = (grey, wide, high) => {
  const data = new Uint8ClampedArray(wide * high * 4).fill(255);
  for (let at = 0; at < wide * high; at++) data.fill(grey[at], at * 4, at * 4 + 3);
  return { data, width: wide, height: high, colorSpace: "srgb" };
};

/** As the scanner's canvas makes it: each pixel the mean of four. */
function half(grey) {
  const [wide, high] = [width >> 1, height >> 1];
  const small = new Uint8Array(wide * high);
  for (let y = 0; y < high; y++)
    for (let x = 0; x < wide; x++) {
      const at = 2 * y * width + 2 * x;
      small[y * wide + x] = (grey[at] + grey[at + 1] + grey[at + width] + grey[at + width + 1]) / 4;
    }
  return picture(small, wide, high);
}

async function texts(seen, stage) {
  const began = performance.now();
  const found = await readBarcodes(seen, stage);
  const read = found.filter((one) => one.isValid).map((one) => one.text);
  return { read, ms: performance.now() - began };
}

for (let at = 0; at < all.length; at += width * height) {
  const grey = all.subarray(at, at + width * height);
  const first = await texts(half(grey), stages.first);
  const full = await texts(picture(grey, width, height), stages.full);
  const ms = { first: first.ms, full: full.ms };
  console.log(JSON.stringify({ first: first.read, full: full.read, ms }));
}
