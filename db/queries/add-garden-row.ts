import type { Database } from "../open";

/** The tables that a garden's package fills row by row, by the package's names; facts and weather come in by their own way. */
const into = {
  garden: "garden",
  people: "person",
  beds: "bed",
  covers: "cover",
  crops: "crop",
  varieties: "variety",
  trials: "trial",
  "trial-beds": "trial_bed",
  "taken-up": "taken_up",
  "cover-placings": "cover_placing",
  companions: "companion",
  "main-levels": "main_level",
  assessments: "assessment",
  entries: "entry",
  sowings: "sowing",
  rules: "rule",
  plots: "plot",
  cohorts: "cohort",
  causes: "cause",
  "germination-tests": "germination_test",
  amendments: "amendment",
  verdicts: "verdict",
} as const;

export type FilledTable = keyof typeof into;

/** Whether rows of a package's table are added as they are. */
export function isFilledTable(name: string): name is FilledTable {
  return Object.hasOwn(into, name);
}

/**
 * Adds rows to a table of an empty garden's file as its package tells them. Whatever the file forbids is refused by the
 * file itself.
 *
 * @param columns names of our own, never what somebody typed
 */
export function addGardenRows(
  database: Database,
  table: FilledTable,
  columns: readonly string[],
  rows: Iterable<(string | number | null)[]>,
): void {
  const listed = columns.map((column) => `"${column}"`).join(", ");
  const marks = columns.map(() => "?").join(", ");
  const statement = database.$client.prepare(`INSERT INTO ${into[table]} (${listed}) VALUES (${marks})`);
  for (const row of rows) statement.run(...row);
}
