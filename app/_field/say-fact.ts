import type { FieldPack } from "@/lib/sync/field-pack";
import { type Fact, isBedFact, sayBedFact } from "@/lib/words/bed-fact";
import { sayCause } from "@/lib/words/cause";
import type { Observation } from "@/lib/words/observation";
import { sayObservation } from "@/lib/words/say-observation";

/** The words of a cause, the grower's own among them. */
export function sayPackCause(pack: FieldPack, code: string): string {
  return pack.causes.find((cause) => cause.code === code)?.words ?? sayCause(code);
}

/** What a fact says, in the words of the pack's causes. */
export function sayFact(fact: Observation, pack: FieldPack): string {
  return sayObservation(fact, (code) => sayPackCause(pack, code));
}

/** A fact of either sort with its place: *A2: one plant gone to slugs*, *Long bed: cover open*. */
export function sayPlacedFact(fact: Fact, pack: FieldPack): string {
  if (isBedFact(fact)) {
    const bed = pack.beds.find((candidate) => candidate.id === fact.bedId);
    return `${bed?.name ?? fact.bedId}: ${sayBedFact(fact)}`;
  }
  const plots = pack.beds.flatMap((bed) => bed.plots);
  return `${plots.find((plot) => plot.id === fact.plotId)?.code ?? fact.plotId}: ${sayFact(fact, pack)}`;
}
