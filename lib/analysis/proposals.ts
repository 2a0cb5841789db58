import { blocksToSettle } from "@/lib/statistics/blocks-to-settle";
import { floorProbability } from "@/lib/statistics/floor-probability";
import { plotsToSettle } from "@/lib/statistics/plots-to-settle";
import { threeWayRule } from "@/lib/statistics/three-way-rule";
import { sayUnder } from "@/lib/words/say-under";
import type { Rule } from "@/lib/words/trial";
import { caution, inOrder, listed } from "./caution-order";
import type { Finding, FloorEvidence, Proposal, Survival } from "./finding";
import { proposalOverWinters } from "./over-winters";
import type { Share, ShareFit } from "./share-fit";
import type { CellFit } from "./survival-of-main";
import type { TrialRecord } from "./trial-record";
import type { YieldRatio } from "./yield-ratio";

/** More plots than this settle nothing that a garden can hold. */
const mostPlotsToSettle = 40;

interface Evidence {
  record: TrialRecord;
  rule: Rule;
  survival: Finding<Survival> | null;
  fit: ShareFit | null;
  /** Every variety under every cover or sowing that whole main plots were dealt; null where none were. */
  cells: CellFit | null;
  ratios: YieldRatio[];
}

/**
 * What the rule set before the trial proposes for each variety: *grow again* when each floor is met as surely as asked,
 * *drop* when some floor is missed as surely, otherwise *try once more*. Where the tender check stood the winter did not
 * test hardiness, and one trial is one winter: nothing is proposed to be grown again from it alone, whatever its figures
 * say (`proposalOverWinters` sets earlier winters beside them). The person decides.
 *
 * @param isToCome whether the assessment that decides lies ahead of everything seen
 */
export function proposalFinding(
  record: TrialRecord,
  evidence: Pick<Evidence, "survival" | "fit" | "cells" | "ratios">,
  isToCome: boolean,
): Finding<Proposal[]> | null {
  const { rule } = record;
  if (rule === null || (rule.survivalFloor === null && rule.yieldFloor === null)) return null;
  const told: Evidence = { ...evidence, record, rule };
  const stood = testedHardiness(record, evidence.survival) === false;
  const barred = isToCome
    ? "the assessment that decides is still to come"
    : stood
      ? "the tender check stood, so this winter did not test hardiness"
      : evidence.survival?.value.lookSee
        ? "a look-see bed can tell dead from alive, not the better from the good"
        : isUnlikeCovered(record)
          ? "not all plots stood under the same cover, and a verdict is for one"
          : null;
  const { survival } = evidence;
  return {
    value: record.varieties.map((variety) =>
      proposalOverWinters(proposalFor(variety, told, barred), [], rule.sureness),
    ),
    plants: survival?.plants ?? 0,
    plots: survival?.plots ?? 0,
    asOf: survival?.asOf ?? null,
    method: {
      name: "probability that each floor of the rule is met in this bed, this winter",
      sources: [],
    },
    scale: "probability",
    level: rule.sureness,
    cautions: inOrder(
      stood && !isToCome
        ? [
            caution(
              "tender-stood",
              `The tender check ${record.tenderCheck} stood, so this winter did not test hardiness: nothing earns “grow again” from it.`,
            ),
          ]
        : [],
    ),
  };
}

/**
 * Whether the winter tested hardiness: no when the variety known to be tender met the floor, or half of it stood where
 * there is none. Null without such a variety.
 */
export function testedHardiness(
  { rule, tenderCheck }: TrialRecord,
  survival: Finding<Survival> | null,
): boolean | null {
  const tender = survival?.value.varieties.find((variety) => variety.variety === tenderCheck);
  if (tender?.estimate == null) return null;
  return tender.estimate < (rule?.survivalFloor ?? 0.5);
}

function proposalFor(variety: string, told: Evidence, whole: string | null): Proposal {
  const { rule, fit, record } = told;
  const share = fit?.shares.find((one) => one.variety === variety) ?? null;
  const ratio = told.ratios.find((one) => one.variety === variety) ?? null;
  const survival = survivalFloors(variety, told, share);
  // Against itself the check has no yield to be judged by.
  const harvest: FloorEvidence[] =
    rule.yieldFloor !== null && variety !== record.check
      ? [{ of: "yield", floor: rule.yieldFloor, probability: ratio?.atLeast(rule.yieldFloor) ?? null }]
      : [];
  const floors = [...survival, ...harvest];
  const choose = (some: FloorEvidence[]) =>
    threeWayRule(
      some.map((floor) => floor.probability),
      rule.sureness,
      false,
    );
  const under = survival.filter((floor) => floor.under !== undefined);
  const choices = under.map((floor) => choose([floor, ...harvest]));
  const depends = new Set(choices).size > 1;
  const onFigures = depends ? "try once more" : (choices[0] ?? choose(floors));
  const barredBy = whole ?? singlePlot(variety, record);
  return {
    variety,
    choice: onFigures,
    onFigures,
    floors,
    barredBy,
    cappedBy: null,
    depends,
    winters: 1,
    reasons: [
      ...(depends
        ? [
            `The figures do not agree: ${listed(under.map((floor, place) => `“${choices[place]}” ${sayUnder(floor.under ?? "")}`))}. Say in your reason which of them your verdict is for.`,
          ]
        : []),
      ...reasonsFor(rule),
    ],
    settledBy:
      onFigures === "try once more" && barredBy === null && under.length === 0
        ? settling(told, share, ratio, floors)
        : null,
  };
}

/** One floor; or, where covers or sowing dates were dealt to main plots, the floor under each of them. */
function survivalFloors(
  variety: string,
  { rule: { survivalFloor: floor }, fit, cells }: Evidence,
  share: Share | null,
): FloorEvidence[] {
  if (floor === null) return [];
  if (cells === null)
    return [{ of: "survival", floor, probability: share && survivalProbability(fit, share, floor) }];
  return cells.shares
    .filter((cell) => cell.variety === variety)
    .map((cell) => ({
      of: "survival",
      floor,
      probability: survivalProbability(cells, cell, floor),
      under: cell.treatment,
    }));
}

function singlePlot(variety: string, { plots }: TrialRecord): string | null {
  return plots.filter((plot) => plot.variety === variety).length === 1
    ? "it had one plot, and one plot cannot tell a variety from its spot"
    : null;
}

/** Whether covers differ in a design that knows nothing of them. */
function isUnlikeCovered({ design, plots }: TrialRecord): boolean {
  return design !== "split-plot" && new Set(plots.map((plot) => plot.cover)).size > 1;
}

function survivalProbability(
  fit: Pick<ShareFit, "clumping"> | null,
  share: Pick<Share, "share" | "known">,
  floor: number,
): number | null {
  if (fit === null || share.share === null || share.known === null) return null;
  const { plants, clusterSize } = share.known;
  return floorProbability(
    fit.clumping,
    { standing: share.share * plants, setOut: plants, clusterSize },
    floor,
  );
}

function reasonsFor(rule: Rule): string[] {
  return rule.qualities
    .filter((quality) => quality.weight === "must")
    .map(({ trait }) => `${trait} is a must of the rule, which these figures do not judge.`);
}

/** The plots that would settle every floor that is open, if the variety goes on as it has. */
function settling(
  { rule, fit, record }: Evidence,
  share: Share | null,
  ratio: YieldRatio | null,
  floors: FloorEvidence[],
): Proposal["settledBy"] {
  const missAt = floors.length === 1 ? 1 - rule.sureness : (1 - rule.sureness) / 2;
  const meetAt = rule.sureness;
  const plantsPerPlot = Math.max(1, Math.round(share?.known?.clusterSize ?? 1));
  const needs = floors.map((floor) => {
    if (floor.probability === null) return null;
    if (floor.of === "survival") {
      if (fit === null || share?.share == null || share.known === null) return null;
      const { plants, clusterSize } = share.known;
      return (
        plotsToSettle(
          fit.clumping,
          { standing: share.share * plants, setOut: plants, clusterSize },
          { floor: floor.floor, meetAt, missAt },
          plantsPerPlot,
          mostPlotsToSettle,
        )?.plots ?? null
      );
    }
    const blocks = record.plots.filter((plot) => plot.variety === record.check).length;
    if (!ratio?.log || blocks < 2) return null;
    return (
      blocksToSettle(
        { estimate: ratio.log.estimate, se: ratio.log.se, blocks },
        Math.max(1, record.varieties.length - 1),
        { logFloor: Math.log(floor.floor), meetAt, missAt },
        mostPlotsToSettle,
      )?.blocks ?? null
    );
  });
  if (needs.some((need) => need === null)) return null;
  const plots = Math.max(...(needs as number[]));
  return plots > 0 ? { plots, plantsPerPlot } : null;
}
