import { openReadOnly } from "@/db/open";
import { countRecords } from "@/db/queries/count-records";
import { checkCopy } from "@/db/restore-file";

// A process of its own, started by `verifyAside`: it reads a whole copy aside from the pages and says what it holds, or
// ends with 1 and the reason when the copy cannot be put back.
try {
  const file = process.argv[2];
  checkCopy(file);
  const database = openReadOnly(file);
  process.stdout.write(JSON.stringify(countRecords(database)));
  database.$client.close();
} catch (fault) {
  process.stderr.write(fault instanceof Error ? fault.message : String(fault));
  process.exitCode = 1;
}
