import type { FieldPack } from "@/lib/sync/field-pack";
import type { Observation } from "@/lib/words/observation";
import type { OutboxEntry } from "./outbox-entry";

/** Home's facts and those of the phone that home has or may still take, each once: what the screens fold. */
export function allFacts(pack: FieldPack, entries: OutboxEntry[]): Observation[] {
  const atHome = new Set(pack.facts.map((fact) => fact.id));
  const onPhone = entries
    .filter((entry) => entry.state === "waiting" || entry.state === "home")
    .filter((entry) => !atHome.has(entry.id))
    .map((entry) => entry.fact);
  return [...pack.facts, ...onPhone];
}
