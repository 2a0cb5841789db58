import { writeSync } from "node:fs";
import { openMigrated } from "@/db/migrate";
import { closeDatabase } from "@/db/open";

// A start in small, to be killed: it says when it begins to bring the file up, and when that is done.
const [file, migrations] = process.argv.slice(2);
writeSync(1, "begin\n");
closeDatabase(openMigrated(file, String(process.pid), migrations).database);
writeSync(1, "done\n");
