import type { Day } from "@/lib/words/day";
import type { VerdictChoice } from "@/lib/words/trial";
import type { Database } from "../open";

export interface VerdictChoiceRow {
  entryId: string;
  use: unknown;
  choice: VerdictChoice;
  decidedOn: Day;
}

/** Every verdict by what it is on and what was chosen, without its figures, in the order in which they were given. */
export function listVerdictChoices(database: Database): VerdictChoiceRow[] {
  return database.$client
    .prepare<[], Omit<VerdictChoiceRow, "use"> & { use: string }>(
      `SELECT entry_id AS entryId, "use", choice, decided_on AS decidedOn FROM verdict ORDER BY decided_at, id`,
    )
    .all()
    .map((row) => ({ ...row, use: JSON.parse(row.use) }));
}
