import { verifyFile } from "@/db/copy-file";

// A process of its own, started by `backUp`: it reads a whole copy aside from the pages, and ends with 1 and the reason
// when the copy is not whole.
try {
  verifyFile(process.argv[2]);
} catch (fault) {
  process.stderr.write(fault instanceof Error ? fault.message : String(fault));
  process.exitCode = 1;
}
