import type { Database } from "../open";
import { coverPlacing } from "../schema/garden";
import { cohort } from "../schema/observation";
import {
  assessment,
  companion,
  entry,
  mainLevel,
  plot,
  rule,
  sowing,
  takenUp,
  trial,
  trialBed,
} from "../schema/trial";

/** A whole trial as it is first stored: its row and those of everything that hangs on it. */
export interface NewTrial {
  trial: typeof trial.$inferInsert;
  beds: (typeof trialBed.$inferInsert)[];
  takenUp: (typeof takenUp.$inferInsert)[];
  mainLevels: (typeof mainLevel.$inferInsert)[];
  companions: (typeof companion.$inferInsert)[];
  assessments: (typeof assessment.$inferInsert)[];
  coverPlacings: (typeof coverPlacing.$inferInsert)[];
  entries: (typeof entry.$inferInsert)[];
  sowings: (typeof sowing.$inferInsert)[];
  rule: typeof rule.$inferInsert;
  plots: (typeof plot.$inferInsert)[];
  cohorts: (typeof cohort.$inferInsert)[];
}

/** Stores a new trial. To be called within `inOneAct`, so that there is never half a trial. */
export function addTrial(database: Database, rows: NewTrial): void {
  database.insert(trial).values(rows.trial).run();
  for (const row of rows.beds) database.insert(trialBed).values(row).run();
  for (const row of rows.takenUp) database.insert(takenUp).values(row).run();
  // Before the levels: a level may be one of them.
  for (const row of rows.companions) database.insert(companion).values(row).run();
  for (const row of rows.mainLevels) database.insert(mainLevel).values(row).run();
  for (const row of rows.assessments) database.insert(assessment).values(row).run();
  for (const row of rows.coverPlacings) database.insert(coverPlacing).values(row).run();
  for (const row of rows.entries) database.insert(entry).values(row).run();
  for (const row of rows.sowings) database.insert(sowing).values(row).run();
  database.insert(rule).values(rows.rule).run();
  for (const row of rows.plots) database.insert(plot).values(row).run();
  for (const row of rows.cohorts) database.insert(cohort).values(row).run();
}
