import { inForce, successors } from "@/lib/journal/in-force";
import type { FieldPack } from "@/lib/sync/field-pack";
import type { BedFact, Fact } from "@/lib/words/bed-fact";
import type { Observation } from "@/lib/words/observation";
import { allBedFacts, allFacts } from "./all-facts";
import type { OutboxEntry } from "./outbox-entry";

/** A fact as a history shows it on the phone. */
export interface PastFact<Some extends Fact> {
  fact: Some;
  state: "in force" | "corrected" | "withdrawn";
}

function past<Some extends Fact>(facts: Some[], isAsked: (fact: Some) => boolean): PastFact<Some>[] {
  const counting = new Set(inForce(facts).map((fact) => fact.id));
  const next = successors(facts);
  const stateOf = (fact: Some): PastFact<Some>["state"] => {
    const successor = next.get(fact.id);
    if (successor) return successor.kind === "withdrawn" ? "withdrawn" : "corrected";
    return counting.has(fact.id) || fact.kind === "withdrawn" ? "in force" : "corrected";
  };
  return facts
    .filter(isAsked)
    .sort((one, other) => (one.seenOn === other.seenOn ? 0 : one.seenOn < other.seenOn ? 1 : -1))
    .map((fact) => ({ fact, state: stateOf(fact) }));
}

/** All that this phone knows of a plot, the latest day first, corrected and withdrawn facts included. */
export function pastOfPlot(pack: FieldPack, entries: OutboxEntry[], plotId: string): PastFact<Observation>[] {
  return past(allFacts(pack, entries), (fact) => fact.plotId === plotId);
}

/** The same of a bed as a whole, as far back as the pack goes. */
export function pastOfBed(pack: FieldPack, entries: OutboxEntry[], bedId: string): PastFact<BedFact>[] {
  return past(allBedFacts(pack, entries), (fact) => fact.bedId === bedId);
}
