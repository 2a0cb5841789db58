import { appendBedFact } from "@/db/queries/append-bed-fact";
import { appendObservation } from "@/db/queries/append-observation";
import { ensureCause } from "@/db/queries/ensure-cause";
import { ensureCohort } from "@/db/queries/ensure-cohort";
import { findBed } from "@/db/queries/find-bed";
import { findFactHash } from "@/db/queries/find-fact-hash";
import { findPlot, type PlantedPlotRow } from "@/db/queries/find-plot";
import { listTiedCohorts } from "@/db/queries/list-tied-cohorts";
import { putStand } from "@/db/queries/put-stand";
import type { FactReply } from "@/lib/sync/contract";
import type { BedFact } from "@/lib/words/bed-fact";
import { quoteFound } from "@/lib/words/fault";
import type { Observation } from "@/lib/words/observation";
import { bodyHash } from "./body-hash";
import type { House } from "./house";
import { refoldCohort } from "./refold-cohort";

/** What facts written in one act have in common, so that each is looked up or made known once. */
interface Known {
  plots: Map<string, PlantedPlotRow | null>;
  /** Cohorts and causes. */
  made: Set<string>;
}

function nothingKnown(): Known {
  return { plots: new Map(), made: new Set() };
}

function plotOf({ database }: House, plotId: string, { plots }: Known): PlantedPlotRow | null {
  const known = plots.get(plotId);
  if (known !== undefined) return known;
  const found = findPlot(database, plotId);
  plots.set(plotId, found);
  return found;
}

/** Makes something once within an act. */
function once({ made }: Known, name: string, make: () => void): void {
  if (made.has(name)) return;
  make();
  made.add(name);
}

function refused(id: string, place: string, found: string, wanted: string): FactReply {
  return { id, answer: "refused", place, found: quoteFound(found), wanted };
}

/** The answer for an id that is kept already; null for a new one. */
function knownAnswer({ database }: House, id: string, hash: string): FactReply | null {
  const kept = findFactHash(database, id);
  if (!kept) return null;
  if (kept.bodyHash === hash) return { id, answer: "already" };
  return refused(id, "id", id, "an id of its own: another fact is kept under this one");
}

/** Writes one fact of a bed down, where it is new and its bed is known. */
export function keepBedFact(house: House, fact: BedFact): FactReply {
  const { database } = house;
  const { id } = fact;
  const hash = bodyHash(fact);
  const known = knownAnswer(house, id, hash);
  if (known) return known;
  if (!findBed(database, fact.bedId)) return refused(id, "bedId", fact.bedId, "a bed of this garden");
  const { deviceSequence, ...body } = fact;
  appendBedFact(database, {
    ...body,
    deviceSeq: deviceSequence,
    receivedAt: house.now(),
    bodyHash: hash,
  });
  return { id, answer: "recorded" };
}

/**
 * Writes one fact down, where it is new and its plot is known; the stands that it changes are to be put right in the same
 * act, by `refoldTied`. Facts are written nowhere else.
 */
export function keepFact(house: House, fact: Observation, acquainted = nothingKnown()): FactReply {
  const { database } = house;
  const { id } = fact;
  const hash = bodyHash(fact);
  const known = knownAnswer(house, id, hash);
  if (known) return known;
  const plot = plotOf(house, fact.plotId, acquainted);
  if (!plot) return refused(id, "plotId", fact.plotId, "a plot of this garden");

  const setOutOn = fact.cohortOn ?? plot.plantedOn;
  const cohortId = `${plot.id}/${setOutOn}`;
  once(acquainted, `cohort ${cohortId}`, () =>
    ensureCohort(database, { id: cohortId, plotId: plot.id, setOutOn, plants: 0 }),
  );
  const { cause } = fact;
  const takes = fact.kind === "removed" ? "removal" : "loss";
  if (cause !== null) once(acquainted, `${takes} ${cause}`, () => ensureCause(database, cause, takes));
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

/** A fact among others that cannot be kept: the act of all of them is undone. */
export class FactRefused extends Error {}

/** Facts that are kept together or not at all. */
export interface KeptTogether {
  /** Throws `FactRefused` where the fact cannot be kept, so that the act is undone. */
  keep(fact: Observation): void;
  /** Puts the stands right, once for all. */
  finish(): void;
}

/** Keeps many facts within one act of the caller's. */
export function keepTogether(house: House): KeptTogether {
  const kept: string[] = [];
  const acquainted = nothingKnown();
  return {
    keep(fact) {
      const reply = keepFact(house, fact, acquainted);
      if (reply.answer === "refused")
        throw new FactRefused(`the fact ${fact.id} cannot be kept: ${reply.found}; wanted: ${reply.wanted}`);
      kept.push(fact.id);
    },
    finish: () => refoldTied(house, kept),
  };
}
