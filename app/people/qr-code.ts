import { encode } from "uqr";

/** A QR code as one path in a square of `size` modules. */
export interface QrCode {
  path: string;
  size: number;
}

/** Draws a text as a QR code (ISO/IEC 18004), with the quiet zone of four modules that cameras want. */
export function qrCode(text: string): QrCode {
  const { data, size } = encode(text, { ecc: "M", border: 4 });
  const path = data.flatMap((row, y) => row.map((dark, x) => (dark ? `M${x} ${y}h1v1h-1z` : ""))).join("");
  return { path, size };
}
