import { findGarden } from "@/db/queries/find-garden";
import { listTrials } from "@/db/queries/list-trials";
import type { Day } from "@/lib/words/day";
import type { House } from "./house";
import { importLimit } from "./staged-files";

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
    trials: listTrials(database).map(({ id, question, plantedOn }) => ({ id, question, plantedOn })),
    megabytes: importLimit.bytes / 1024 / 1024,
  };
}
