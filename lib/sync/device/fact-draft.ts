import type { BedFact, Fact } from "@/lib/words/bed-fact";
import type { Observation } from "@/lib/words/observation";

type Stamped = "id" | "deviceId" | "deviceSequence" | "recordedAt" | "clockSkewS";

/** A fact before the device has given it its id, its place in the device's count and the moment of recording. */
export type FactDraft = Omit<Observation, Stamped>;

/** The same of a bed. */
export type BedDraft = Omit<BedFact, Stamped>;

export type Draft = FactDraft | BedDraft;

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

/** The same for a fact of a bed. */
export function draftBedFact(
  named: Pick<BedDraft, "bedId" | "kind" | "seenOn" | "by"> & Partial<BedDraft>,
): BedDraft {
  return {
    walkaboutId: null,
    what: null,
    reach: null,
    amount: null,
    unit: null,
    replaces: null,
    picture: null,
    note: null,
    ...named,
  };
}

type Withdrawing = Pick<FactDraft, "seenOn" | "by" | "walkaboutId"> & { note: string };

/** The fact that takes another back, on the same plot and cohort or of the same bed. */
export function draftWithdrawal(fact: Observation, act: Withdrawing): FactDraft;
export function draftWithdrawal(fact: Fact, act: Withdrawing): Draft;
export function draftWithdrawal(fact: Fact, act: Withdrawing): Draft {
  const common = { kind: "withdrawn", replaces: fact.id, ...act } as const;
  if ("bedId" in fact) return draftBedFact({ bedId: fact.bedId, ...common });
  return draftFact({ plotId: fact.plotId, cohortOn: fact.cohortOn, ...common });
}
