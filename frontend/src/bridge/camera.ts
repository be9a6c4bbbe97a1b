/** The camera's file made small on a canvas, which also leaves its place and maker behind. */
import { PHOTO_BYTES } from "../domain/operation";
import type { Camera } from "../ports/camera";

const LONGEST_PX = 1600;
const QUALITIES = [0.85, 0.75, 0.6, 0.45, 0.3];

export const canvasCamera: Camera = {
  async develop(file) {
    const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
    try {
      for (let side = LONGEST_PX; side >= 400; side /= 2) {
        const canvas = drawn(picture, side);
        for (const quality of QUALITIES) {
          const photo = await jpeg(canvas, quality);
          if (photo !== null && photo.size <= PHOTO_BYTES) return photo;
        }
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
