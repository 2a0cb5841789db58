import type { Day } from "@/lib/words/day";
import type { Use } from "./trial-verdicts";

/** What a verdict was for: kinds of cover, not the one tunnel or net that was over it. */
export interface VerdictUse {
  coverKinds: string[];
  sownOn: Day;
  purpose: string;
}

/** The use of a verdict as it was written down, by kinds of cover; a cover that is no longer listed is its own kind. */
export function verdictUse({ covers, sownOn, purpose }: Use, kinds: Map<string, string>): VerdictUse {
  return { coverKinds: [...new Set(covers.map((name) => kinds.get(name) ?? name))].sort(), sownOn, purpose };
}

/** Two verdicts are for one use where kinds of cover, purpose and the month of sowing are the same. */
export function keyOfUse({ coverKinds, purpose, sownOn }: VerdictUse): string {
  return JSON.stringify([coverKinds, purpose, sownOn.slice(5, 7)]);
}
