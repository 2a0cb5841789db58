import type { Database } from "@/db/open";
import { type ComparedRow, listCompared } from "@/db/queries/list-compared";
import { listCovers } from "@/db/queries/list-covers";
import type { Day } from "@/lib/words/day";
import type { Use } from "./trial-verdicts";

/** What a verdict was for: kinds of cover, not the one tunnel or net that was over it. */
export interface VerdictUse {
  /** The kinds that it stood under, none in the open; several sets where kinds of cover were compared. */
  covers: string[][];
  /** One, or each of several that were compared. */
  sownOn: Day[];
  purpose: string;
}

const sorted = (kinds: string[]) => [...new Set(kinds)].sort();

/** Each set once: two fleeces that are compared are one kind of cover. */
const differing = (sets: string[][]) => [
  ...new Map(sets.map((kinds) => [JSON.stringify(kinds), kinds])).values(),
];

/**
 * Reads uses of verdicts as they were written down. A use names the covers over the whole trial; what its main plots
 * were dealt beside is told from the trial, whose layout does not change. A cover that is no longer listed is its own
 * kind.
 */
export function readerOfUses(database: Database): (trialId: string, use: Use) => VerdictUse {
  const kinds = new Map(listCovers(database).map(({ name, kind }) => [name, kind]));
  const compared = new Map<string, ComparedRow[]>();
  for (const row of listCompared(database))
    compared.set(row.trialId, [...(compared.get(row.trialId) ?? []), row]);
  return (trialId, { covers, sownOn, purpose }) => {
    const levels = compared.get(trialId) ?? [];
    const over = covers.map((name) => kinds.get(name) ?? name);
    const sowings = levels.flatMap((level) => level.sownOn ?? []);
    return {
      covers:
        levels.length === 0 || sowings.length > 0
          ? [sorted(over)]
          : differing(
              levels.map(({ coverKind }) => sorted(coverKind === null ? over : [...over, coverKind])),
            ),
      sownOn: sowings.length === 0 ? [sownOn] : sowings,
      purpose,
    };
  };
}

/** Two verdicts are for one use where kinds of cover, purpose and the month of sowing are the same. */
export function keyOfUse({ covers, purpose, sownOn }: VerdictUse): string {
  const sets = covers.map((kinds) => JSON.stringify(kinds)).sort();
  return JSON.stringify([sets, purpose, sorted(sownOn.map((day) => day.slice(5, 7)))]);
}
