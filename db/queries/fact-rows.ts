import { asc, eq, fillPlaceholders, type SQL, sql } from "drizzle-orm";
import type { Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";
import type { Database } from "../open";
import { cohort, observation } from "../schema/observation";
import { trial } from "../schema/trial";

/** A fact as kept, with what the home added to it on receipt. */
export type FactRow = Observation & {
  seq: number;
  trialId: string;
  cohortId: string;
  receivedAt: Instant;
};

const columns = {
  seq: observation.seq,
  id: observation.id,
  deviceId: observation.deviceId,
  deviceSequence: observation.deviceSeq,
  walkaboutId: observation.walkaboutId,
  trialId: observation.trialId,
  plotId: observation.plotId,
  cohortId: observation.cohortId,
  cohortOn: sql<Day | null>`nullif(${cohort.setOutOn}, ${trial.plantedOn})`,
  kind: observation.kind,
  cause: observation.cause,
  trait: observation.trait,
  part: observation.part,
  amount: observation.amount,
  unit: observation.unit,
  seenOn: observation.seenOn,
  recordedAt: observation.recordedAt,
  receivedAt: observation.receivedAt,
  replaces: observation.replaces,
  by: observation.by,
  note: observation.note,
  clockSkewS: observation.clockSkewS,
  picture: observation.picture,
};

/** The select that every reading of facts starts from. */
export function selectFacts(database: Database, condition: SQL | undefined) {
  return database
    .select(columns)
    .from(observation)
    .innerJoin(cohort, eq(cohort.id, observation.cohortId))
    .innerJoin(trial, eq(trial.id, observation.trialId))
    .where(condition);
}

/**
 * Prepares a reading of many facts. The same as `.all()`, which takes longer to name the columns of some thousand facts
 * than SQLite to find them.
 */
export function prepareMany(
  database: Database,
  select: Pick<ReturnType<typeof selectFacts>, "toSQL">,
): (values: Record<string, unknown>) => FactRow[] {
  const { sql: text, params } = select.toSQL();
  const statement = database.$client.prepare<unknown[], unknown[]>(text).raw();
  const names = Object.keys(columns);
  return (values) =>
    statement.all(...fillPlaceholders(params, values)).map((row) => {
      const fact: Record<string, unknown> = {};
      for (let at = 0; at < names.length; at += 1) fact[names[at]] = row[at];
      return fact as FactRow;
    });
}

/** The one order in which facts fold; the id only breaks a tie that a well-behaved device never makes. */
export const foldOrder = [
  asc(observation.seenOn),
  asc(observation.deviceId),
  asc(observation.deviceSeq),
  asc(observation.id),
];
