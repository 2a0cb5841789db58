import type { Picture } from "./device-store";

const longestSidePx = 1_600;
const quality = 0.82;

/** The size of a picture whose longest side is brought down to the limit; a smaller one stays as it is. */
export function scaledSize(widthPx: number, heightPx: number): { widthPx: number; heightPx: number } {
  const factor = Math.min(1, longestSidePx / Math.max(widthPx, heightPx));
  return {
    widthPx: Math.max(1, Math.round(widthPx * factor)),
    heightPx: Math.max(1, Math.round(heightPx * factor)),
  };
}

/**
 * A picture from the camera, turned upright, brought down to what is needed to see leaves by, and written as JPEG. What
 * the camera wrote beside the picture, such as the place, is not in it.
 *
 * Rejects when the file is no picture that this browser can read.
 */
export async function scalePicture(file: Blob): Promise<Picture> {
  const whole = await createImageBitmap(file, { imageOrientation: "from-image" });
  const { widthPx, heightPx } = scaledSize(whole.width, whole.height);
  const canvas = document.createElement("canvas");
  canvas.width = widthPx;
  canvas.height = heightPx;
  canvas.getContext("2d")?.drawImage(whole, 0, 0, widthPx, heightPx);
  whole.close();
  const scaled = await new Promise<Blob>((resolve, reject) => {
    canvas.toBlob(
      (blob) => (blob ? resolve(blob) : reject(new Error("the picture could not be written"))),
      "image/jpeg",
      quality,
    );
  });
  const bytes = await scaled.arrayBuffer();
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  const sha256 = Array.from(hash, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return { sha256, bytes };
}
