import { defineConfig } from "@playwright/test";
import { findChromium, howToGetChromium } from "../lib/command/chromium";

const executablePath = findChromium(process.env);
if (executablePath === null) throw new Error(howToGetChromium);

/** Every file starts a site of its own; see `browser/site.ts`. */
export default defineConfig({
  testDir: "./browser",
  outputDir: "../test-results",
  workers: 2,
  timeout: 90_000,
  expect: { timeout: 10_000 },
  forbidOnly: true,
  use: {
    locale: "en-GB",
    timezoneId: "Europe/London",
    screenshot: "only-on-failure",
    // Only the tests of the kept screens are of the kept screens: a worker would answer before the network that is cut.
    serviceWorkers: "block",
    launchOptions: {
      executablePath,
      args: [
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
      ],
    },
  },
  projects: [
    { name: "phone", use: { viewport: { width: 360, height: 740 }, hasTouch: true } },
    // What a phone keeps and how it comes in is the same at any width.
    {
      name: "desk",
      testIgnore: /(offline|phone)\.spec\.ts/,
      use: { viewport: { width: 1280, height: 900 } },
    },
  ],
});
