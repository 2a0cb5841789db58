import { findGarden } from "@/db/queries/find-garden";
import { listLatestTrials } from "@/db/queries/list-latest-trials";
import type { Day } from "@/lib/words/day";
import type { House } from "./house";
import { importLimit } from "./staged-files";

/** Observations of a trial older than so many others are not offered a place. */
const trialsOffered = 120;

export interface ImportView {
  gardenName: string | null;
  /** The latest planted first. */
  trials: { id: string; question: string; plantedOn: Day }[];
  megabytes: number;
}

/** What the import page needs to ask. */
export function importView({ database }: House): ImportView {
  return {
    gardenName: findGarden(database)?.name ?? null,
    trials: listLatestTrials(database, trialsOffered),
    megabytes: importLimit.bytes / 1024 / 1024,
  };
}
