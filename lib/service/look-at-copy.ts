import { basename } from "node:path";
import { countRecords, type RecordCount } from "@/db/queries/count-records";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import { copyPath } from "./copy-files";
import type { House } from "./house";

export interface CopyLooked {
  name: string;
  holds: RecordCount;
  /** What the garden's file holds at this moment. */
  present: RecordCount;
}

/** The reason without the folders of this machine. */
function plainReason(reason: string, path: string): string {
  return reason.replaceAll(path, basename(path)).split("\n")[0];
}

/** Reads a copy through and tells what it holds beside what the garden holds now; a copy that cannot be put back is refused. */
export async function lookAtCopy(house: House, name: string): Promise<Outcome<CopyLooked>> {
  const path = copyPath(house, name);
  if (!path)
    return refusal([
      { place: "copy", found: "a copy that is no longer here", wanted: "one of those in the list" },
    ]);
  if (!house.lookAtCopy) throw new Error("lookAtCopy requires a house that the launcher opened");
  try {
    return success({ name, holds: await house.lookAtCopy(path), present: countRecords(house.database) });
  } catch (fault) {
    const found = plainReason(fault instanceof Error ? fault.message : String(fault), path);
    return refusal([
      { place: "copy", found, wanted: "a whole copy of a garden, from this version or an earlier one" },
    ]);
  }
}

/** Begins to put a copy back; false when there is none of that name. */
export function beginPutBack(house: House, name: string): boolean {
  const path = copyPath(house, name);
  if (!path) return false;
  if (!house.putBack) throw new Error("beginPutBack requires a house that the launcher opened");
  house.putBack(path);
  return true;
}
