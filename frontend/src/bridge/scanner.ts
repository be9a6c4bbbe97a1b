/**
 * The camera, watched for symbols until told to stop. Each picture is looked at in two stages: all
 * that is in sight at half its size for the square alone, and where that finds nothing the band in
 * its middle, whole, for square and bars: there the label is held, and thin bars need every pixel.
 *
 * Loaded on first use; script and WebAssembly are kept on the phone with the rest of the app.
 */
import wasm from "zxing-wasm/reader/zxing_reader.wasm?url";
import type { Look, Seen, Stage } from "./decoder";

/** Why there is nothing to see: each is told in words with the way out. */
export type ScanTrouble = "refused" | "no_camera" | "in_use" | "cannot_read";

class Trouble extends Error {
  constructor(readonly why: ScanTrouble) {
    super(why);
  }
}

export const troubleOf = (no: unknown): ScanTrouble =>
  no instanceof Trouble ? no.why : "cannot_read";

export interface Watch {
  /** Switches the light; null where the camera has none. */
  torch: ((on: boolean) => Promise<void>) | null;
  /** Milliseconds spent reading for each second of film since it began; pictures looked at. */
  effort(): { msPerSecond: number; looks: number };
  stop(): void;
}

const PAUSE_MS = 50;
/** Bars of a quarter millimetre need some ten pixels a millimetre: the most that phones film. */
const FILMED = { width: { ideal: 1920 }, height: { ideal: 1080 } };
/** The band's height by its width; a label is half as high as wide. */
const BAND = 0.75;

/** Shows the camera in `video` and tells the texts of each picture. Throws: troubleOf. */
export async function watch(
  video: HTMLVideoElement,
  onSeen: (texts: string[]) => void,
  onTrouble: (trouble: ScanTrouble) => void,
): Promise<Watch> {
  const [stream, reader] = await both(openCamera(), decoder());
  const [track] = stream.getVideoTracks();
  const sheet = document.createElement("canvas");
  const pen = sheet.getContext("2d", { willReadFrequently: true });
  let on = true;
  let spent = 0;
  let looks = 0;
  let began = performance.now();
  const stop = () => {
    on = false;
    for (const one of stream.getTracks()) one.stop();
    video.srcObject = null;
  };
  track?.addEventListener("ended", () => on && onTrouble("in_use"));
  video.srcObject = stream;
  try {
    await video.play();
  } catch {
    stop();
    throw new Trouble("no_camera");
  }
  began = performance.now();
  void look();
  const effort = () => ({
    msPerSecond: (1000 * spent) / Math.max(1, performance.now() - began),
    looks,
  });
  return { torch: torchOf(track), effort, stop };

  async function look(): Promise<void> {
    try {
      while (on) {
        const all = inSight(video);
        const texts = (await seenIn(all, 2, "first")) ?? (await seenIn(band(all), 1, "full")) ?? [];
        if (!on) return;
        looks += 1;
        onSeen(texts);
        await new Promise((resolve) => setTimeout(resolve, PAUSE_MS));
      }
    } catch {
      if (on) onTrouble("cannot_read");
    }
  }

  /** The texts in a part of the picture, made so many times smaller; null for none. */
  async function seenIn(part: Part, smaller: number, stage: Stage): Promise<string[] | null> {
    const width = Math.floor(part.width / smaller);
    const height = Math.floor(part.height / smaller);
    if (!on || width === 0 || height === 0) return null;
    sheet.width = width;
    sheet.height = height;
    pen?.drawImage(video, part.x, part.y, part.width, part.height, 0, 0, width, height);
    const pixels = pen!.getImageData(0, 0, width, height).data.buffer;
    const { texts, ms } = await reader.read({ pixels, width, height, stage });
    spent += ms;
    return texts.length > 0 ? texts : null;
  }
}

interface Part {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** What of the picture the driver sees; a label beside it is not meant (object-fit: cover). */
function inSight({ videoWidth, videoHeight, clientWidth, clientHeight }: HTMLVideoElement): Part {
  if (videoWidth === 0 || clientWidth === 0) return { x: 0, y: 0, width: 0, height: 0 };
  const scale = Math.max(clientWidth / videoWidth, clientHeight / videoHeight);
  const width = Math.min(videoWidth, clientWidth / scale);
  const height = Math.min(videoHeight, clientHeight / scale);
  return { x: (videoWidth - width) / 2, y: (videoHeight - height) / 2, width, height };
}

function band({ x, y, width, height }: Part): Part {
  const high = Math.min(height, width * BAND);
  return { x, y: y + (height - high) / 2, width, height: high };
}

/** Both or none: a camera that was opened for nothing is shut again. */
async function both(
  camera: Promise<MediaStream>,
  reader: Promise<Decoder>,
): Promise<[MediaStream, Decoder]> {
  try {
    return await Promise.all([camera, reader]);
  } catch (trouble) {
    void camera.then((stream) => stream.getTracks().map((one) => one.stop())).catch(() => {});
    throw trouble;
  }
}

async function openCamera(): Promise<MediaStream> {
  // A page that was not fetched safely has no cameras at all.
  if (navigator.mediaDevices === undefined) throw new Trouble("no_camera");
  try {
    return await navigator.mediaDevices.getUserMedia({
      audio: false,
      video: { facingMode: { ideal: "environment" }, ...FILMED },
    });
  } catch (no) {
    const name = no instanceof DOMException ? no.name : "";
    if (name === "NotAllowedError" || name === "SecurityError") throw new Trouble("refused");
    throw new Trouble(name === "NotReadableError" ? "in_use" : "no_camera");
  }
}

function torchOf(track: MediaStreamTrack | undefined): Watch["torch"] {
  // Not every browser's types know of the light yet.
  const can = track?.getCapabilities?.() as { torch?: boolean } | undefined;
  if (track === undefined || can?.torch !== true) return null;
  return (on) => track.applyConstraints({ advanced: [{ torch: on } as MediaTrackConstraintSet] });
}

type Answer = "ready" | "broken" | Seen;

interface Decoder {
  read(look: Look): Promise<Seen>;
}

let waiting: Promise<Decoder> | null = null;

/** One for the life of the page; a start that failed is tried again the next time. */
function decoder(): Promise<Decoder> {
  waiting ??= startDecoder().catch((trouble: unknown) => {
    waiting = null;
    throw trouble;
  });
  return waiting;
}

async function startDecoder(): Promise<Decoder> {
  const worker = new Worker(new URL("./decoder.ts", import.meta.url), { type: "module" });
  let answer: ((said: Answer) => void) | null = null;
  let last: Promise<unknown> = Promise.resolve();
  worker.onmessage = ({ data }) => answer?.(data);
  worker.onerror = () => answer?.("broken");
  /** One after the other: an answer belongs to the question before it. */
  function ask(what: object, given: Transferable[] = []): Promise<Answer> {
    const asked = last.then(
      () =>
        new Promise<Answer>((resolve) => {
          answer = resolve;
          worker.postMessage(what, given);
        }),
    );
    last = asked;
    return asked;
  }
  // The worker's own address is not the page's: the file is named in full.
  if ((await ask({ wasm: new URL(wasm, location.href).href })) !== "ready") {
    worker.terminate();
    throw new Trouble("cannot_read");
  }
  return {
    async read(look) {
      const said = await ask(look, [look.pixels]);
      if (typeof said === "string") throw new Error("a picture could not be read");
      return said;
    },
  };
}
