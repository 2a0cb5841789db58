import type { FactRow } from "@/db/queries/fact-rows";
import { inForce, successors } from "@/lib/journal/in-force";
import type { Instant } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";
import { factOfRow } from "./fact-of-row";

/** A fact as the history shows it: what was recorded, when it came home, and whether it still counts. */
export interface HistoryLine extends Observation {
  seq: number;
  receivedAt: Instant;
  state: "in force" | "corrected" | "withdrawn";
  /** The fact that counts instead, or that withdrew this one; null for a fact in force. */
  replacedBy: string | null;
}

/**
 * Tells of each row whether it counts.
 *
 * @param tied the rows themselves and every fact tied to them by correction
 */
export function historyLines(rows: FactRow[], tied: FactRow[]): HistoryLine[] {
  const counting = new Set(inForce(tied).map((fact) => fact.id));
  const successor = successors(tied);
  return rows.map((row) => {
    const fact = factOfRow(row);
    const kept = { ...fact, seq: row.seq, receivedAt: row.receivedAt };
    const next = successor.get(row.id);
    if (next) {
      const state = next.kind === "withdrawn" ? "withdrawn" : "corrected";
      return { ...kept, state, replacedBy: next.id };
    }
    // A withdrawal counts for nothing itself; it is in force when no later act on the same fact outdid it.
    const rival = row.replaces === null ? undefined : successor.get(row.replaces);
    if (counting.has(row.id) || (row.kind === "withdrawn" && rival?.id === row.id))
      return { ...kept, state: "in force", replacedBy: null };
    return { ...kept, state: "corrected", replacedBy: rival?.id ?? null };
  });
}
