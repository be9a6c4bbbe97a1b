/** The camera's file made small on a canvas, which also leaves its place and maker behind. */
import { PHOTO_BYTES } from "../domain/operation";
import { RUNGS } from "../domain/room";
import type { Camera } from "../ports/camera";

export const canvasCamera: Camera = {
  async develop(file, from = 0) {
    const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
    try {
      for (const [rung, { side, quality }] of RUNGS.entries()) {
        if (rung < from) continue;
        const blob = await jpeg(drawn(picture, side), quality);
        if (blob !== null && blob.size <= PHOTO_BYTES) return { blob, rung };
      }
    } finally {
      picture.close();
    }
    throw new Error("the picture cannot be made small enough");
  },

  async hash(photo) {
    const digest = await crypto.subtle.digest("SHA-256", await photo.arrayBuffer());
    return [...new Uint8Array(digest)].map((b) => b.toString(16).padStart(2, "0")).join("");
  },
};

function drawn(picture: ImageBitmap, longest: number): HTMLCanvasElement {
  const scale = Math.min(1, longest / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  canvas.getContext("2d")?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return canvas;
}

const jpeg = (canvas: HTMLCanvasElement, quality: number): Promise<Blob | null> =>
  new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", quality));
