import type { Observation } from "@/lib/words/observation";

/** A fact before the device has given it its id, its place in the device's count and the moment of recording. */
export type FactDraft = Omit<Observation, "id" | "deviceId" | "deviceSequence" | "recordedAt">;

type Named = Pick<FactDraft, "plotId" | "kind" | "seenOn" | "by">;

/** A draft with every part that is not given left empty. */
export function draftFact(named: Named & Partial<FactDraft>): FactDraft {
  return {
    walkaboutId: null,
    cohortOn: null,
    cause: null,
    trait: null,
    part: null,
    amount: null,
    unit: null,
    replaces: null,
    note: null,
    ...named,
  };
}

/** The fact that takes another back, on the same plot and cohort. */
export function draftWithdrawal(
  fact: Observation,
  act: Pick<FactDraft, "seenOn" | "by" | "walkaboutId"> & { note: string },
): FactDraft {
  return draftFact({
    plotId: fact.plotId,
    cohortOn: fact.cohortOn,
    kind: "withdrawn",
    replaces: fact.id,
    ...act,
  });
}
