import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { ofShells, shellEntries } from "@/app/offline/shell-files";

let root: string;

function built(files: Record<string, string>): void {
  for (const [name, text] of Object.entries(files)) {
    const file = join(root, ".next", name);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
  }
}

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), "proving-bed-"));
  vi.spyOn(process, "cwd").mockReturnValue(root);
});
afterEach(() => {
  vi.restoreAllMocks();
  rmSync(root, { recursive: true, force: true });
});

it("a phone keeps what the two shells load, and what that loads in turn, and no other page's files", () => {
  built({
    "build-manifest.json": '{"rootMainFiles":["static/chunks/root.js"]}',
    "server/app/walkabout/page_client-reference-manifest.js": '"/_next/static/chunks/walk.js"',
    "server/app/weigh-in/page_client-reference-manifest.js": "",
    "server/app/weigh-in/page/build-manifest.json": '["static/chunks/weigh.css"]',
    "server/app/trials/page_client-reference-manifest.js": '"/_next/static/chunks/chart.js"',
    "static/chunks/root.js": "",
    "static/chunks/walk.js": 'load("static/chunks/later.js")',
    "static/chunks/later.js": 'load("static/chunks/walk.js","static/chunks/gone.js")',
    "static/chunks/weigh.css": "",
    "static/chunks/chart.js": "",
    "static/media/letters.woff2": "",
  });
  const names = ["root.js", "walk.js", "later.js", "gone.js", "weigh.css", "chart.js"];
  const entries = [
    ...names.map((name) => ({ url: `.next/static/chunks/${name}` })),
    { url: ".next/static/media/letters.woff2" },
    ...shellEntries(),
  ];
  expect(ofShells(entries).manifest.map(({ url }) => url)).toEqual([
    ".next/static/chunks/root.js",
    ".next/static/chunks/walk.js",
    ".next/static/chunks/later.js",
    ".next/static/chunks/weigh.css",
    ".next/static/media/letters.woff2",
    "/walkabout",
    "/weigh-in",
  ]);
});

it("the shells have another revision at every build", () => {
  const [one, other] = [shellEntries(), shellEntries()];
  expect(one[0].revision).toBe(one[1].revision);
  expect(one[0].revision).not.toBe(other[0].revision);
});
