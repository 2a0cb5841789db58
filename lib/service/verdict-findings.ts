import { findGarden } from "@/db/queries/find-garden";
import { findTrial } from "@/db/queries/find-trial";
import { listEntries } from "@/db/queries/list-entries";
import { listTrialsOfVariety } from "@/db/queries/list-trials-of-variety";
import type { TrialFindings } from "@/lib/analysis/finding";
import { proposalOverWinters } from "@/lib/analysis/over-winters";
import type { VarietyInTrial, WinterShare } from "@/lib/analysis/variety-in-trial";
import { type SeasonCount, wintersTogether } from "@/lib/analysis/winters-together";
import { seasonOf } from "@/lib/words/season";
import { askAsideOr } from "./aside";
import type { House } from "./house";
import { hasPooledSurvival, keepPooledSurvival, keptPooledSurvival } from "./kept-pooled-survival";
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
  /** What that is worked out from; null where there is nothing. */
  wintersToPool(variety: string): Parameters<typeof keptPooledSurvival> | null;
}

/**
 * What one trial's record says, with earlier winters of each variety beside it: those of trials planted in an earlier
 * season that stood under the same kinds of cover and came to the same deciding assessment. As on a variety's page, several
 * trials of one season are one winter. Null when there is no such trial.
 */
export function verdictFindings(house: House, trialId: string): VerdictFindings | null {
  const findings = trialFindings(house, trialId);
  if (!findings) return null;
  const { proposals } = findings;
  if (!proposals) return { findings, anotherWinter: () => null, wintersToPool: () => null };
  const told = trialAnswerNow(house, trialId)?.varieties ?? [];
  const besides = (variety: string) => {
    const own = told.find((one) => one.variety === variety);
    return own ? otherTrials(house, trialId, own) : [];
  };
  const earlier = (variety: string) => {
    const season = told.find((one) => one.variety === variety)?.trial.season ?? "";
    return besides(variety).filter((one) => one.season < season);
  };
  const value = proposals.value.map((proposal) =>
    proposalOverWinters(proposal, earlier(proposal.variety), proposals.level),
  );
  const wintersToPool: VerdictFindings["wintersToPool"] = (variety) => {
    const own = told.find((one) => one.variety === variety);
    const now =
      own?.shares.length === 1 && own.shares[0].state === "counts"
        ? winterOf(own.shares[0], own.trial.season)
        : null;
    const floors = value.find((one) => one.variety === variety)?.floors ?? [];
    const floor = floors.find(({ of }) => of === "survival")?.floor ?? null;
    if (!now || floor === null || floor <= 0 || floor >= 1) return null;
    return [wintersTogether([...besides(variety), now]), spreadScale, floor, 0.95];
  };
  return {
    findings: { ...findings, proposals: { ...proposals, value } },
    wintersToPool,
    anotherWinter(variety) {
      const of = wintersToPool(variety);
      return of && (keptPooledSurvival(...of).atLeastFloor?.another ?? null);
    },
  };
}

/** The same, with all that it rests on worked out aside from the pages first: other pages are answered meanwhile. */
export async function verdictFindingsInTurn(house: House, trialId: string): Promise<VerdictFindings | null> {
  await findingsInTurn(house, trialId);
  const besides = listEntries(house.database, trialId).flatMap(({ varietyId }) =>
    trialsBeside(house, trialId, varietyId),
  );
  for (const id of new Set([trialId, ...besides])) await trialAnswer(house, id);
  const verdict = verdictFindings(house, trialId);
  for (const { variety } of verdict?.findings.proposals?.value ?? []) {
    const of = verdict?.wintersToPool(variety);
    if (of && !hasPooledSurvival(of))
      keepPooledSurvival(
        of,
        await askAsideOr(house, { kind: "pooled", of }, () => keptPooledSurvival(...of)),
      );
  }
  return verdict;
}

/** Other trials of a variety, of this trial's season and of earlier ones. */
function trialsBeside({ database }: House, trialId: string, varietyId: string): string[] {
  const latitude = findGarden(database)?.latitude ?? 0;
  const plantedOn = findTrial(database, trialId)?.plantedOn;
  if (plantedOn === undefined) return [];
  const season = seasonOf(plantedOn, latitude);
  return listTrialsOfVariety(database, varietyId)
    .filter((trial) => trial.id !== trialId && seasonOf(trial.plantedOn, latitude) <= season)
    .map(({ id }) => id);
}

function winterOf({ share }: WinterShare, season: string): SeasonCount | null {
  if (share?.estimate == null || !share.effectivePlants) return null;
  const { estimate, effectivePlants } = share;
  return { season, standing: estimate * effectivePlants, effectivePlants };
}

/** What the variety's other trials say that may be set beside this one, by the rules of its own page. */
function otherTrials(house: House, trialId: string, own: VarietyInTrial): SeasonCount[] {
  const entry = listEntries(house.database, trialId).find(({ variety }) => variety === own.variety);
  if (!entry) return [];
  const kinds = (share: WinterShare) => JSON.stringify(share.coverKinds);
  return trialsBeside(house, trialId, entry.varietyId)
    .flatMap((id) => trialAnswerNow(house, id)?.varieties ?? [])
    .filter(
      (one) =>
        one.variety === own.variety &&
        one.assessment === own.assessment &&
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
