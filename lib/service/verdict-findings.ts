import { findTrial } from "@/db/queries/find-trial";
import { listEntries } from "@/db/queries/list-entries";
import { listTrialsOfVariety } from "@/db/queries/list-trials-of-variety";
import type { TrialFindings } from "@/lib/analysis/finding";
import { type EarlierWinter, proposalOverWinters } from "@/lib/analysis/over-winters";
import type { VarietyInTrial, WinterShare } from "@/lib/analysis/variety-in-trial";
import type { House } from "./house";
import { keptPooledSurvival } from "./kept-pooled-survival";
import { trialAnswer, trialAnswerNow } from "./trial-answer";
import { trialFindings } from "./trial-findings";
import { findingsInTurn } from "./whole-findings";

/** Scale of the prior on the spread between winters, on the logit scale: as on the variety's own page. */
const spreadScale = 1;

/** Findings to decide by: each proposal with the winters before this one beside it. */
export interface VerdictFindings {
  findings: TrialFindings;
  /**
   * How likely a variety comes to the survival floor in another winter; null where there is nothing to say it from.
   * Worked out when asked: it takes about a tenth of a second.
   */
  anotherWinter(variety: string): number | null;
}

/**
 * What one trial's record says, with earlier winters of each variety beside it: those of trials planted in an earlier
 * season that stood under the same kinds of cover and came to their deciding assessment. Null when there is no such trial.
 */
export function verdictFindings(house: House, trialId: string): VerdictFindings | null {
  const findings = trialFindings(house, trialId);
  if (!findings) return null;
  const { proposals } = findings;
  if (!proposals) return { findings, anotherWinter: () => null };
  const told = trialAnswerNow(house, trialId)?.varieties ?? [];
  const wintersOf = (variety: string) => {
    const own = told.find((one) => one.variety === variety);
    return own ? earlierWinters(house, trialId, own) : [];
  };
  const value = proposals.value.map((proposal) =>
    proposalOverWinters(proposal, wintersOf(proposal.variety), proposals.level),
  );
  return {
    findings: { ...findings, proposals: { ...proposals, value } },
    anotherWinter(variety) {
      const own = told.find((one) => one.variety === variety);
      const now = own && own.shares.length === 1 ? winterOf(own.shares[0], own.trial.season) : null;
      const floors = value.find((one) => one.variety === variety)?.floors ?? [];
      const floor = floors.find(({ of }) => of === "survival")?.floor ?? null;
      if (!now || floor === null || floor <= 0 || floor >= 1) return null;
      return (
        keptPooledSurvival([...wintersOf(variety), now], spreadScale, floor, 0.95).atLeastFloor?.another ??
        null
      );
    },
  };
}

/** The same, with all that it rests on worked out aside from the pages first: other pages are answered meanwhile. */
export async function verdictFindingsInTurn(house: House, trialId: string): Promise<VerdictFindings | null> {
  await findingsInTurn(house, trialId);
  const { database } = house;
  const plantedOn = findTrial(database, trialId)?.plantedOn;
  if (plantedOn === undefined) return null;
  const earlier = listEntries(database, trialId).flatMap(({ varietyId }) =>
    listTrialsOfVariety(database, varietyId).filter((trial) => trial.plantedOn < plantedOn),
  );
  for (const id of new Set([trialId, ...earlier.map((trial) => trial.id)])) await trialAnswer(house, id);
  return verdictFindings(house, trialId);
}

function winterOf({ share, tested }: WinterShare, season: string): EarlierWinter | null {
  if (share?.estimate == null || !share.effectivePlants) return null;
  const { estimate, effectivePlants } = share;
  return { season, standing: Math.min(estimate * effectivePlants, effectivePlants), effectivePlants, tested };
}

function earlierWinters(house: House, trialId: string, own: VarietyInTrial): EarlierWinter[] {
  const { database } = house;
  const varietyId = listEntries(database, trialId).find((entry) => entry.variety === own.variety)?.varietyId;
  const plantedOn = findTrial(database, trialId)?.plantedOn;
  if (varietyId === undefined || plantedOn === undefined) return [];
  const kinds = (share: WinterShare) => JSON.stringify(share.coverKinds);
  return listTrialsOfVariety(database, varietyId)
    .filter((trial) => trial.id !== trialId && trial.plantedOn < plantedOn)
    .flatMap((trial) => trialAnswerNow(house, trial.id)?.varieties ?? [])
    .filter(
      (one) =>
        one.variety === own.variety &&
        one.trial.season !== own.trial.season &&
        one.trial.isOverWinter === own.trial.isOverWinter,
    )
    .flatMap((one) =>
      one.shares
        .filter(
          (share) => share.state === "counts" && own.shares.every((mine) => kinds(mine) === kinds(share)),
        )
        .flatMap((share) => winterOf(share, one.trial.season) ?? []),
    );
}
