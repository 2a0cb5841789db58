import { listEntries } from "@/db/queries/list-entries";
import { listVerdicts } from "@/db/queries/list-verdicts";
import type { House } from "./house";

/** Ids of the entries whose last verdict was *try once more*; those without a verdict are undecided too. */
export function undecidedEntries(house: House, trialId: string): Set<string> {
  const last = new Map(
    listVerdicts(house.database, trialId).map((verdict) => [verdict.entryId, verdict.choice]),
  );
  const entries = listEntries(house.database, trialId);
  return new Set(
    entries.filter(({ id }) => (last.get(id) ?? "try once more") === "try once more").map(({ id }) => id),
  );
}
