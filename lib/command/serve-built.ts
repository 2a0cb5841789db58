import { type ChildProcess, spawn } from "node:child_process";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../..", import.meta.url));

/** Starts the built server on a folder and any free port, as a person does, and waits for the address that it prints. */
export async function serveBuilt(dataFolder: string): Promise<{ url: string; child: ChildProcess }> {
  const child = spawn(process.execPath, ["--import", "tsx", join(root, "lib/command/start.ts")], {
    cwd: root,
    env: { ...process.env, PROVING_BED_DATA: dataFolder, PORT: "0" },
    stdio: ["ignore", "pipe", "inherit"],
  });
  const url = await new Promise<string>((resolve, reject) => {
    createInterface({ input: child.stdout as NodeJS.ReadableStream }).on("line", (line) => {
      const address = /^Proving Bed is at (\S+)$/.exec(line)?.[1];
      if (address) resolve(address);
    });
    child.once("exit", (code) => reject(new Error(`the server ended with ${code}`)));
  });
  return { url, child };
}
