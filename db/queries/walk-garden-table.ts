import type { Database } from "../open";

/** Where an export's tables are taken from, in the order in which their rows are written. */
const from = {
  garden: "garden",
  people: "person ORDER BY made_at, id",
  beds: "bed ORDER BY walking_order, id",
  covers: "cover ORDER BY name",
  crops: "crop ORDER BY name",
  varieties: "variety ORDER BY crop_id, name",
  trials: "trial ORDER BY planted_on, made_at, id",
  "trial-beds": "trial_bed ORDER BY trial_id, position",
  "taken-up": "taken_up ORDER BY trial_id, bed_id, from_mm",
  "cover-placings": "cover_placing ORDER BY from_on, id",
  companions: "companion ORDER BY trial_id, name",
  "main-levels": "main_level ORDER BY trial_id, position",
  assessments: "assessment ORDER BY trial_id, due_on, name",
  entries: "entry ORDER BY trial_id, position",
  sowings: "sowing ORDER BY sown_on, id",
  rules: "rule ORDER BY trial_id, version",
  plots: "plot ORDER BY trial_id, code",
  cohorts: "cohort ORDER BY id",
  causes: "cause ORDER BY takes, position, code",
  "germination-tests": "germination_test ORDER BY made_at, id",
  amendments: "amendment ORDER BY made_at, id",
  observations: "observation ORDER BY seq",
  "bed-observations": "bed_observation ORDER BY seq",
  pictures: "picture ORDER BY received_at, sha256",
  verdicts: "verdict ORDER BY decided_at, id",
  // A day that was read again stands as it was read last.
  weather: `(SELECT day, min_deci_c / 10.0 AS min_c, max_deci_c / 10.0 AS max_c, place FROM weather_day
    WHERE seq IN (SELECT max(seq) FROM weather_day GROUP BY day, place)) ORDER BY day, place`,
} as const;

export type WalkedTable = keyof typeof from;

/**
 * The rows of one table for an export, one by one, so that a long one never stands in memory whole. The connection can do
 * nothing else until the walk is over or given up.
 *
 * @param columns which columns, in this order; names of our own, never what somebody typed
 */
export function walkGardenTable(
  database: Database,
  table: WalkedTable,
  columns: readonly string[],
): IterableIterator<(string | number | null)[]> {
  const listed = columns.map((column) => `"${column}"`).join(", ");
  return database.$client
    .prepare<[], (string | number | null)[]>(`SELECT ${listed} FROM ${from[table]}`)
    .raw()
    .iterate();
}
