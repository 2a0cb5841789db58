import { beginSentence } from "@/lib/words/begin-sentence";
import { type Day, daysBetween, sayDay } from "@/lib/words/day";
import { type Companion, factorWords } from "@/lib/words/trial";
import type { TrialPlan } from "@/lib/words/trial-plan";

/** The part of a plan that may hold what could not be told apart afterwards. */
export type CautionedPlan = Pick<
  TrialPlan,
  "design" | "blocks" | "beds" | "mainPlots" | "sownOn" | "plantedOn" | "companions" | "crop"
> & { covers?: TrialPlan["covers"] };

/** Slow upright companions are to be so many days older than the crop (*common practice*). */
const olderDays = { fewest: 14, most: 21 } as const;

function companionCautions(companion: Companion, plan: CautionedPlan): string[] {
  const { name, habit, sownOn } = companion;
  if (habit === "quick") {
    if (sownOn === plan.plantedOn) return [];
    return [
      `${beginSentence(name)}: a quick companion goes in on the day that the crop is planted out, ${sayDay(plan.plantedOn as Day)}, and is out before the crop closes over it (common practice).`,
    ];
  }
  const older = daysBetween(sownOn, plan.sownOn as Day);
  if (older >= olderDays.fewest && older <= olderDays.most) return [];
  const age =
    older === 0
      ? "as old as"
      : `${Math.abs(older)} ${Math.abs(older) === 1 ? "day" : "days"} ${older > 0 ? "older" : "younger"} than`;
  return [
    `${beginSentence(name)}: ${age} the ${plan.crop}. A slow upright companion should be some two to three weeks older than the spreading crop that it stands among, or it is smothered (common practice).`,
  ];
}

/** A cover over everything that goes on, or comes off, between two sowings: the one was raised without it. */
function coverBetweenSowings(sowings: { sownOn: string }[], covers: TrialPlan["covers"]): string[] {
  const days = sowings.map((sowing) => sowing.sownOn).sort();
  const isBetween = (day: string | null) => day !== null && day > days[0] && day <= days[days.length - 1];
  return covers
    .filter(({ fromOn, untilOn }) => isBetween(fromOn) || isBetween(untilOn))
    .map(
      ({ name }) =>
        `${name} goes on or comes off between the sowings, so that one was raised with it and another without: the date and the cover could not be told apart. Before the first sowing or after the last would do.`,
    );
}

function mainPlotCautions({ mainPlots, blocks, plantedOn, covers = [] }: CautionedPlan): string[] {
  if (!mainPlots) return [];
  const words = factorWords[mainPlots.factor];
  const cautions: string[] = [];
  if (blocks === 1)
    cautions.push(
      `With one block each ${words.one} stands on one spot only: what the ${words.one} did and what the spot did could not be told apart.`,
    );
  if (mainPlots.factor === "companion") return cautions;
  if (mainPlots.factor === "sowing") {
    cautions.push(
      "The earlier sowing is older on every day. The results show both: what stands on one day, and what stands at one age.",
    );
    return [...cautions, ...coverBetweenSowings(mainPlots.levels, covers)];
  }
  const days = mainPlots.levels.flatMap(({ cover, fromOn }) => (cover ? [fromOn ?? plantedOn] : []));
  if (new Set(days).size > 1)
    cautions.push(
      "The covers go on on different days: which cover it was, and how early it went on, could not be told apart. One day for all would do.",
    );
  const ends = mainPlots.levels.flatMap(({ cover, untilOn }) => (cover ? [untilOn ?? "not set"] : []));
  if (new Set(ends).size > 1)
    cautions.push(
      "The covers come off on different days: which cover it was, and how long it stood, could not be told apart. One day for all would do.",
    );
  return cautions;
}

/**
 * What in a plan could not be told apart afterwards, or is known to go wrong, in sentences: one spot for each cover, covers
 * that go on on different days, sowings of different age, a random deal over two beds, companions of the wrong age.
 */
export function planCautions(plan: CautionedPlan): string[] {
  const cautions = mainPlotCautions(plan);
  if (plan.design === "crd" && plan.beds.length > 1)
    cautions.push(
      "Chance alone may put most plots of one variety into one bed, and the bed’s doing would look like the variety’s. Blocks, some in each bed, would not.",
    );
  const inEvery = plan.companions ?? [];
  const compared =
    plan.mainPlots?.factor === "companion"
      ? plan.mainPlots.levels.flatMap(({ companion }) => companion ?? [])
      : [];
  const companions = [...inEvery, ...compared].map((row) => ({ ...row, sownOn: row.sownOn as Day }));
  cautions.push(...companions.flatMap((companion) => companionCautions(companion, plan)));
  if (compared.length > 0)
    cautions.push(
      "Leave the rows where the companion would stand empty in the stretches without it: the crop’s own spacing is to be the same in all.",
    );
  if (inEvery.length > 0)
    cautions.push(
      "Set the companions out alike in every plot, or they become a treatment that nobody dealt.",
    );
  return cautions;
}
