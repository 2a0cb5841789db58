import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { isBuilt, sourceStamp, stampFile } from "@/lib/command/build-stamp";

let root: string;

function write(name: string, text: string): void {
  const file = join(root, name);
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, text);
}

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), "proving-bed-"));
  write("app/page.tsx", "one");
  write("package-lock.json", "{}");
});
afterEach(() => rmSync(root, { recursive: true, force: true }));

it("a folder without a stamp is not built", () => {
  expect(isBuilt(root)).toBe(false);
  mkdirSync(join(root, ".next"));
  expect(isBuilt(root)).toBe(false);
});

it("a stamp of these sources says it is built, until one of them changes, comes, goes or moves", () => {
  write(".next/proving-bed-stamp", sourceStamp(root));
  expect(stampFile(root)).toBe(join(root, ".next/proving-bed-stamp"));
  expect(isBuilt(root)).toBe(true);
  write("app/page.tsx", "two");
  expect(isBuilt(root)).toBe(false);
  write("app/page.tsx", "one");
  expect(isBuilt(root)).toBe(true);
  write("package-lock.json", "{ }");
  expect(isBuilt(root)).toBe(false);
  write("package-lock.json", "{}");
  write("lib/new.ts", "");
  expect(isBuilt(root)).toBe(false);
  rmSync(join(root, "lib"), { recursive: true });
  rmSync(join(root, "app/page.tsx"));
  write("app/other.tsx", "one");
  expect(isBuilt(root)).toBe(false);
});

it("what no page is made from does not count", () => {
  write(".next/proving-bed-stamp", sourceStamp(root));
  write("README.md", "words");
  write("tests/unit/x.test.ts", "");
  write("data/garden.sqlite", "");
  expect(isBuilt(root)).toBe(true);
});
