import type { FieldPack } from "@/lib/sync/field-pack";
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

/** The stake code of a fact's plot, or its id where this phone does not know the plot. */
export function sayPlot(pack: FieldPack | null, plotId: string): string {
  return pack?.beds.flatMap((bed) => bed.plots).find((plot) => plot.id === plotId)?.code ?? plotId;
}
