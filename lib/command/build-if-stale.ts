import { spawn } from "node:child_process";
import { readdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { takeLock } from "@/db/lock";
import { isBuilt, sourceStamp, stampFile } from "./build-stamp";

const retryMs = 250;

/** Clears out the last build, its cache apart: leftovers of a development server would be type-checked as ours. */
function clearLastBuild(root: string): void {
  const folder = join(root, ".next");
  rmSync(stampFile(root), { force: true });
  try {
    for (const name of readdirSync(folder)) {
      if (name !== "cache") rmSync(join(folder, name), { recursive: true, force: true });
    }
  } catch (fault) {
    if ((fault as NodeJS.ErrnoException).code !== "ENOENT") throw fault;
  }
}

function runBuild(root: string, signal: AbortSignal): Promise<{ ok: boolean; output: string }> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [join(root, "node_modules/next/dist/bin/next"), "build"], {
      cwd: root,
      env: { ...process.env, NODE_ENV: "production", NEXT_TELEMETRY_DISABLED: "1" },
      stdio: ["ignore", "pipe", "pipe"],
      signal,
    });
    let output = "";
    for (const stream of [child.stdout, child.stderr]) {
      stream.on("data", (piece) => {
        output += piece;
      });
    }
    child.on("error", reject);
    child.on("close", (code) => resolve({ ok: code === 0, output }));
  });
}

/** The sources do not build; `output` is what the builder said. */
export class BuildFailedError extends Error {
  constructor(readonly output: string) {
    super("the pages could not be built");
    this.name = "BuildFailedError";
  }
}

/**
 * Builds the pages unless there is a build of just these sources. Two servers started at once build once: the second
 * waits for the first. The stamp is written only after success, so a build that failed or was cut short is made anew.
 */
export async function buildIfStale(
  root: string,
  options: { onBuild(): void; signal: AbortSignal },
): Promise<void> {
  if (isBuilt(root)) return;
  const lockFile = join(root, "node_modules", ".proving-bed-build.lock");
  let release = takeLock(lockFile);
  while (!release) {
    await pause(retryMs, undefined, { signal: options.signal });
    release = takeLock(lockFile);
  }
  try {
    if (isBuilt(root)) return;
    options.onBuild();
    clearLastBuild(root);
    const stamp = sourceStamp(root);
    const { ok, output } = await runBuild(root, options.signal);
    if (!ok) throw new BuildFailedError(output);
    writeFileSync(stampFile(root), stamp);
  } finally {
    release();
  }
}
