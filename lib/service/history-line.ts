import type { FactRow } from "@/db/queries/fact-rows";
import { inForce, successors } from "@/lib/journal/in-force";
import type { Instant } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";
import { factOfRow } from "./fact-of-row";

export type FactState = "in force" | "corrected" | "withdrawn";

/** A fact as the history shows it: what was recorded, when it came home, and whether it still counts. */
export interface HistoryLine extends Observation {
  seq: number;
  receivedAt: Instant;
  state: FactState;
  /** The fact that counts instead, or that withdrew this one; null for a fact in force. */
  replacedBy: string | null;
}

type Told = Parameters<typeof inForce>[0][number];

/** Tells of any of the given facts whether it counts; they must be all that are tied to one another by correction. */
export function factStates(facts: readonly Told[]): (fact: Told) => FactState {
  const counting = new Set(inForce(facts).map((fact) => fact.id));
  const successor = successors(facts);
  return (fact) => {
    const next = successor.get(fact.id);
    if (next) return next.kind === "withdrawn" ? "withdrawn" : "corrected";
    // A withdrawal counts for nothing itself; it is in force when no later act on the same fact outdid it.
    const rival = fact.replaces === null ? undefined : successor.get(fact.replaces);
    return counting.has(fact.id) || (fact.kind === "withdrawn" && rival?.id === fact.id)
      ? "in force"
      : "corrected";
  };
}

/**
 * Tells of each row whether it counts.
 *
 * @param tied the rows themselves and every fact tied to them by correction
 */
export function historyLines(rows: FactRow[], tied: FactRow[]): HistoryLine[] {
  const stateOf = factStates(tied);
  const successor = successors(tied);
  return rows.map((row) => {
    const state = stateOf(row);
    const rival = row.replaces === null ? undefined : successor.get(row.replaces);
    const replacedBy = state === "in force" ? null : (successor.get(row.id)?.id ?? rival?.id ?? null);
    return { ...factOfRow(row), seq: row.seq, receivedAt: row.receivedAt, state, replacedBy };
  });
}
