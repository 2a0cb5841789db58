import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";

const built = ["app", "lib", "db", "next.config.ts", "tsconfig.json", "package.json", "package-lock.json"];

function filesUnder(path: string): string[] {
  if (!existsSync(path)) return [];
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path)
    .sort()
    .flatMap((name) => filesUnder(join(path, name)));
}

/** The hash of everything that a build is made from: sources, settings, the lock file, and the Node that makes it. */
export function sourceStamp(root: string): string {
  const hash = createHash("sha256").update(process.version);
  for (const part of built) {
    for (const file of filesUnder(join(root, part))) {
      hash
        .update(`\0${file.slice(root.length)}\0`)
        .update(createHash("sha256").update(readFileSync(file)).digest());
    }
  }
  return hash.digest("hex");
}

/** Where the stamp of the last build that succeeded lies. */
export function stampFile(root: string): string {
  return join(root, ".next", "proving-bed-stamp");
}

/** Whether there is a whole build and it was made from the sources as they are. */
export function isBuilt(root: string): boolean {
  const file = stampFile(root);
  return existsSync(file) && readFileSync(file, "utf8") === sourceStamp(root);
}
