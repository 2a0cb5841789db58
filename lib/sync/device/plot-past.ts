import { inForce, successors } from "@/lib/journal/in-force";
import type { FieldPack } from "@/lib/sync/field-pack";
import type { Observation } from "@/lib/words/observation";
import { allFacts } from "./all-facts";
import type { OutboxEntry } from "./outbox-entry";

/** A fact of a plot as its history shows it on the phone. */
export interface PastFact {
  fact: Observation;
  state: "in force" | "corrected" | "withdrawn";
}

/** All that this phone knows of a plot, the latest first, corrected and withdrawn facts included. */
export function plotPast(pack: FieldPack, entries: OutboxEntry[], plotId: string): PastFact[] {
  const facts = allFacts(pack, entries);
  const counting = new Set(inForce(facts).map((fact) => fact.id));
  const next = successors(facts);
  const stateOf = (fact: Observation): PastFact["state"] => {
    const successor = next.get(fact.id);
    if (successor) return successor.kind === "withdrawn" ? "withdrawn" : "corrected";
    return counting.has(fact.id) || fact.kind === "withdrawn" ? "in force" : "corrected";
  };
  return facts
    .filter((fact) => fact.plotId === plotId)
    .sort((one, other) => (one.seenOn === other.seenOn ? 0 : one.seenOn < other.seenOn ? 1 : -1))
    .map((fact) => ({ fact, state: stateOf(fact) }));
}
