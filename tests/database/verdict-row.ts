import { appendVerdict } from "@/db/queries/append-verdict";
import type { House } from "@/lib/service/house";
import type { TrialView } from "@/lib/service/trial-view";

/** Writes a verdict straight into the table, for tests of the table itself. */
export function recordVerdictRow(house: House, trial: TrialView): void {
  appendVerdict(house.database, {
    id: house.newId(),
    trialId: trial.id,
    entryId: trial.entries[1].id,
    use: { variety: trial.entries[1].variety },
    proposal: null,
    figures: {},
    choice: "try once more",
    reason: "one mild winter",
    by: "Ruth",
    decidedOn: trial.today,
    decidedAt: house.now(),
  });
}
