import { fileURLToPath } from "node:url";
import { BuildFailedError, buildIfStale } from "./build-if-stale";

const root = fileURLToPath(new URL("../..", import.meta.url));

try {
  await buildIfStale(root, {
    onBuild: () => console.log("Building the pages."),
    signal: new AbortController().signal,
  });
  console.log("The pages are built.");
} catch (fault) {
  if (!(fault instanceof BuildFailedError)) throw fault;
  console.error(fault.output);
  console.error("The pages could not be built.");
  process.exitCode = 1;
}
