import { expect, it } from "vitest";
import { findChromium } from "@/lib/command/chromium";

it("takes the Chromium that is named, and no other in its place", () => {
  const environment = { PROVING_BED_CHROMIUM: "/opt/chromium", NODE_ENV: "test" } as const;
  expect(findChromium(environment, (path) => path === "/opt/chromium")).toBe("/opt/chromium");
  expect(findChromium(environment, (path) => path === "/usr/bin/chromium")).toBeNull();
});

it("looks in the usual places, in order, and says when there is none", () => {
  const there = ["/usr/bin/google-chrome", "/usr/bin/chromium"];
  expect(findChromium({ NODE_ENV: "test" }, (path) => there.includes(path))).toBe("/usr/bin/chromium");
  expect(findChromium({ NODE_ENV: "test" }, () => false)).toBeNull();
});
