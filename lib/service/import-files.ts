import type { SourceFile } from "@/lib/records/open-table";
import type { House } from "./house";
import type { ImportAnswer, ImportAsked, ImportSteps } from "./import-asked";
import { importGarden } from "./import-garden";
import { importTable } from "./import-table";
import { importTrial } from "./import-trial";
import { importUnsent } from "./import-unsent";

/**
 * Tries files, or takes them in. Whatever they hold, they are read whole before anything is written, every fault is listed,
 * and all is written in one act or nothing; only a phone's unsent facts are judged one by one, as they are when it sends
 * them itself. Throws `ImportStopped` when it is stopped: nothing is written then.
 */
export function importFiles(
  house: House,
  asked: ImportAsked,
  files: readonly SourceFile[],
  options: { isWriting: boolean; steps: ImportSteps },
): ImportAnswer {
  const [file, another] = files;
  const refuse = (found: string, wanted: string): ImportAnswer => ({
    state: "faulty",
    faults: [{ place: "file", found, wanted }],
    count: 1,
  });
  if (!file) return refuse("nothing", "a file");
  if (asked.kind === "garden") return importGarden(house, files, options);
  if (asked.kind === "trial") return importTrial(house, asked, files, options);
  if (another) return refuse(`${files.length} files`, "one file");
  if (asked.kind === "unsent") return importUnsent(house, file, options.isWriting);
  return importTable(house, { ...asked, kind: asked.kind }, file, options);
}
