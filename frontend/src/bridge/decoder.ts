/**
 * Reads symbols out of pixels, in a thread of its own so that the page stays quick. The formats
 * are named: trying all of them would take many times as long.
 */
import stages from "./stages.json";
import { prepareZXingModule, type ReaderOptions, readBarcodes } from "zxing-wasm/reader";

// The library of types that service workers have lacks this one.
declare const self: {
  onmessage: ((event: MessageEvent<Prepare | Look>) => void) | null;
  postMessage(said: "ready" | "broken" | Seen): void;
};

/** The first word: where the WebAssembly lies; it is served by us, never by anybody else. */
export interface Prepare {
  wasm: string;
}

/** A first look is for the square alone and costs little; a full one for every symbol of a label. */
export type Stage = "first" | "full";

export interface Look {
  pixels: ArrayBuffer;
  width: number;
  height: number;
  stage: Stage;
}

export interface Seen {
  texts: string[];
  /** How long the reading itself took. */
  ms: number;
}

/** Kept as data, so that what is measured of them is what a phone does. */
const READ = stages as Record<Stage, ReaderOptions>;

let ready: Promise<unknown> | null = null;

self.onmessage = async ({ data }) => {
  try {
    if ("wasm" in data) {
      const overrides = { locateFile: () => data.wasm };
      ready = prepareZXingModule({ overrides, fireImmediately: true });
      await ready;
      self.postMessage("ready");
      return;
    }
    await ready;
    const { pixels, width, height, stage } = data;
    const picture = new ImageData(new Uint8ClampedArray(pixels), width, height);
    const began = performance.now();
    const found = await readBarcodes(picture, READ[stage]);
    const texts = found.filter((one) => one.isValid).map((one) => one.text);
    self.postMessage({ texts, ms: performance.now() - began });
  } catch {
    self.postMessage("broken");
  }
};
