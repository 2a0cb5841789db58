import * as z from "zod/mini";

/** The most bytes of one picture as it is sent and kept. */
export const mostPictureBytes = 3 * 1024 * 1024;

/** The name of a picture: the SHA-256 of its bytes, in small hexadecimal. */
export const pictureName = z.string().check(z.regex(/^[0-9a-f]{64}$/, "a picture's SHA-256 in hexadecimal"));

export type PictureType = "image/jpeg" | "image/png" | "image/webp";

/** What sort of picture the bytes themselves say that they are; null for anything that is none of the three. */
export function pictureTypeOf(bytes: Uint8Array): PictureType | null {
  const starts = (at: number, ...wanted: number[]) =>
    wanted.every((byte, index) => bytes[at + index] === byte);
  if (starts(0, 0xff, 0xd8, 0xff)) return "image/jpeg";
  if (starts(0, 0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return "image/png";
  if (starts(0, 0x52, 0x49, 0x46, 0x46) && starts(8, 0x57, 0x45, 0x42, 0x50)) return "image/webp";
  return null;
}
