import { writeSync } from "node:fs";
import { join } from "node:path";
import { restoreFile } from "@/db/restore-file";

// A restore in small, to be killed: it says when it begins.
const [dataFolder, copy] = process.argv.slice(2);
writeSync(1, "begin\n");
await restoreFile(copy, join(dataFolder, "garden.sqlite"), join(dataFolder, "aside.sqlite"));
