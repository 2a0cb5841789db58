import type { FieldPack } from "@/lib/sync/field-pack";
import { type BedFact, type Fact, isBedFact } from "@/lib/words/bed-fact";
import type { Observation } from "@/lib/words/observation";
import type { OutboxEntry } from "./outbox-entry";

function onPhone(atHome: Fact[], entries: OutboxEntry[]): Fact[] {
  const known = new Set(atHome.map((fact) => fact.id));
  return entries
    .filter((entry) => entry.state === "waiting" || entry.state === "home")
    .filter((entry) => !known.has(entry.id))
    .map((entry) => entry.fact);
}

/** Home's facts of plots and those of the phone that home has or may still take, each once: what the screens fold. */
export function allFacts(pack: FieldPack, entries: OutboxEntry[]): Observation[] {
  const own = onPhone(pack.facts, entries).filter((fact): fact is Observation => !isBedFact(fact));
  return [...pack.facts, ...own];
}

/** The same of beds. */
export function allBedFacts(pack: FieldPack, entries: OutboxEntry[]): BedFact[] {
  return [...pack.bedFacts, ...onPhone(pack.bedFacts, entries).filter(isBedFact)];
}
