import { appendObservation } from "@/db/queries/append-observation";
import { ensureCause } from "@/db/queries/ensure-cause";
import { ensureCohort } from "@/db/queries/ensure-cohort";
import { findFactHash } from "@/db/queries/find-fact-hash";
import { findPlot } from "@/db/queries/find-plot";
import { listTiedCohorts } from "@/db/queries/list-tied-cohorts";
import { putStand } from "@/db/queries/put-stand";
import type { FactReply } from "@/lib/sync/contract";
import { quoteFound } from "@/lib/words/fault";
import type { Observation } from "@/lib/words/observation";
import { bodyHash } from "./body-hash";
import type { House } from "./house";
import { refoldCohort } from "./refold-cohort";

/**
 * Writes one fact down, where it is new and its plot is known; the stands that it changes are to be put right in the same
 * act, by `refoldTied`. Facts are written nowhere else.
 */
export function keepFact(house: House, fact: Observation): FactReply {
  const { database } = house;
  const { id } = fact;
  const hash = bodyHash(fact);
  const known = findFactHash(database, id);
  if (known?.bodyHash === hash) return { id, answer: "already" };
  const refused = (place: string, found: string, wanted: string): FactReply => ({
    id,
    answer: "refused",
    place,
    found: quoteFound(found),
    wanted,
  });
  if (known) return refused("id", id, "an id of its own: another fact is kept under this one");
  const plot = findPlot(database, fact.plotId);
  if (!plot) return refused("plotId", fact.plotId, "a plot of this garden");

  const setOutOn = fact.cohortOn ?? plot.plantedOn;
  const cohortId = `${plot.id}/${setOutOn}`;
  ensureCohort(database, { id: cohortId, plotId: plot.id, setOutOn, plants: 0 });
  if (fact.cause !== null) ensureCause(database, fact.cause, fact.kind === "removed" ? "removal" : "loss");
  const { deviceSequence, cohortOn: _cohortOn, clockSkewS = null, picture = null, ...body } = fact;
  appendObservation(database, {
    ...body,
    clockSkewS,
    picture,
    deviceSeq: deviceSequence,
    trialId: plot.trialId,
    cohortId,
    receivedAt: house.now(),
    bodyHash: hash,
  });
  return { id, answer: "recorded" };
}

/** Folds anew the cohorts that these facts touch, each once. */
export function refoldTied(house: House, factIds: Iterable<string>): void {
  const { database } = house;
  const touched = new Set<string>();
  for (const id of factIds) for (const cohort of listTiedCohorts(database, id)) touched.add(cohort);
  for (const cohort of touched) putStand(database, refoldCohort(database, cohort));
}

/** Facts that are kept together or not at all. */
export interface KeptTogether {
  /** Throws where the fact cannot be kept, so that the act is undone. */
  keep(fact: Observation): void;
  /** Puts the stands right, once for all. */
  finish(): void;
}

/** Keeps many facts within one act of the caller's. */
export function keepTogether(house: House): KeptTogether {
  const kept: string[] = [];
  return {
    keep(fact) {
      const reply = keepFact(house, fact);
      if (reply.answer === "refused")
        throw new Error(`the fact ${fact.id} cannot be kept: ${reply.found}; wanted: ${reply.wanted}`);
      kept.push(fact.id);
    },
    finish: () => refoldTied(house, kept),
  };
}
