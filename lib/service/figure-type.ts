import { readFileSync } from "node:fs";
import { join } from "node:path";

const file =
  "node_modules/@fontsource-variable/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-wght-normal.woff2";

let kept: string | null = null;

/** The type of the figures as base64, to be put into a file that stands alone. The program runs from its own folder. */
export function figureType(): string {
  kept ??= readFileSync(join(process.cwd(), file)).toString("base64");
  return kept;
}
