import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { test as base } from "@playwright/test";

const root = fileURLToPath(new URL("../..", import.meta.url));
const startWithinMs = 180_000;

/** What a site holds when a file's tests begin: nothing yet, or the demo garden. */
export type Filling = "empty" | "demo";

/** Proving Bed running on a port and a data folder of its own. */
export interface Site {
  url: string;
  dataFolder: string;
  stop(): Promise<void>;
}

function addressFrom(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    const said: string[] = [];
    for (const stream of [child.stdout, child.stderr]) {
      if (!stream) continue;
      createInterface({ input: stream }).on("line", (line) => {
        said.push(line);
        const address = /^Proving Bed is at (\S+)$/.exec(line)?.[1];
        if (address) resolve(address);
      });
    }
    child.once("exit", (code) => reject(new Error(`the site ended with ${code}:\n${said.join("\n")}`)));
  });
}

async function untilHealthy(url: string): Promise<void> {
  for (let tries = 0; ; tries += 1) {
    const answer = await fetch(`${url}/api/health`).catch(() => null);
    if (answer?.ok) return;
    if (tries === 100) throw new Error(`${url} started and is not healthy: ${answer?.status}`);
    await pause(100);
  }
}

/** Starts the site as `npm start` does, and waits for its health route, not only for its port. */
export async function startSite(
  filling: Filling,
  { args = [], env = {} }: { args?: string[]; env?: Record<string, string> } = {},
): Promise<Site> {
  const dataFolder = mkdtempSync(join(tmpdir(), "proving-bed-site-"));
  const launcher = join(root, "lib/command/start.ts");
  const child = spawn(
    process.execPath,
    ["--import", "tsx", launcher, ...(filling === "demo" ? ["--demo"] : []), ...args],
    {
      cwd: root,
      env: { ...process.env, PROVING_BED_DATA: dataFolder, PORT: "0", ...env },
      stdio: ["ignore", "pipe", "pipe"],
    },
  );
  const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
  const stop = async () => {
    child.kill("SIGTERM");
    await ended;
    rmSync(dataFolder, { recursive: true, force: true });
  };
  try {
    const url = await addressFrom(child);
    await untilHealthy(url);
    return { url, dataFolder, stop };
  } catch (fault) {
    await stop();
    throw fault;
  }
}

/**
 * Playwright's `test` with a site of its own for every file and project: `page.goto("/")` goes there. A file that
 * wants the demo garden says `test.use({ filling: "demo" })` at its top. Tests of one file share the site, in order.
 */
export const test = base.extend<
  { site: Site },
  { filling: Filling; siteFor: (file: string) => Promise<Site> }
>({
  filling: ["empty", { option: true, scope: "worker" }],
  siteFor: [
    async ({ filling }, use) => {
      let open: { file: string; site: Site } | null = null;
      await use(async (file) => {
        if (open?.file === file) return open.site;
        await open?.site.stop();
        open = null;
        open = { file, site: await startSite(filling) };
        return open.site;
      });
      await (open as { site: Site } | null)?.site.stop();
    },
    { scope: "worker" },
  ],
  site: [
    async ({ siteFor }, use, info) => {
      await use(await siteFor(info.file));
    },
    { timeout: startWithinMs },
  ],
  baseURL: async ({ site }, use) => {
    await use(site.url);
  },
});

export { expect } from "@playwright/test";
