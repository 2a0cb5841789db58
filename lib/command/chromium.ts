import { existsSync } from "node:fs";

const usualPlaces = [
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
  "/usr/bin/google-chrome",
  "/usr/bin/google-chrome-stable",
  "/snap/bin/chromium",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
];

/** How to get what the browser tests need, in one line. */
export const howToGetChromium =
  "The browser tests need Chromium: install it (on Debian: apt-get install chromium) or set PROVING_BED_CHROMIUM to its path.";

/** The path of an installed Chromium: what `PROVING_BED_CHROMIUM` names, else the first in its usual places; or null. */
export function findChromium(
  environment: NodeJS.ProcessEnv,
  isThere: (path: string) => boolean = existsSync,
): string | null {
  const named = environment.PROVING_BED_CHROMIUM;
  if (named) return isThere(named) ? named : null;
  return usualPlaces.find(isThere) ?? null;
}
