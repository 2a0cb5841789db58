import { newcombeDifference } from "@/lib/statistics/newcombe-difference";
import type { Day } from "@/lib/words/day";
import type { AssessmentName, EntryRole } from "@/lib/words/trial";
import { boltingFinding } from "./bolting";
import type { BoltingOfVariety, Difference, SurvivalOfVariety, TrialFindings, YieldMean } from "./finding";
import { readPlots } from "./read-plots";
import type { TrialRecord } from "./trial-record";

/** What is known of a trial beside its record: when it was, and what stood over it. */
export interface TrialFrame {
  trialId: string;
  question: string;
  purpose: string;
  /** From autumn to spring: `2026/27`. */
  season: string;
  sownOn: Day;
  plantedOn: Day;
  isClosed: boolean;
  /** Whether it stands, or is to stand, from planting to the deciding assessment through the middle of a winter. */
  isOverWinter: boolean;
  /** What main plots were dealt where a variety's figures are of all of it together; null where they are not. */
  together: "sowing" | "companion" | null;
  /** Kinds of cover over the whole trial, in alphabetical order. */
  coverKinds: string[];
  /** Where covers were dealt to main plots: what the record calls each, and its kinds with those over the whole. */
  covered: { cover: string; kinds: string[] }[];
}

/**
 * Why a winter counts towards what is known over winters, or does not: `so far` is still to be assessed, `cut short` was
 * closed before its deciding assessment, `look-see` had one plot of each entry.
 */
export type WinterState = "counts" | "so far" | "cut short" | "look-see" | "no plants" | "not planted";

/** A variety's share under one set of covers in one trial, with the check's beside it. */
export interface WinterShare {
  /** Kinds of cover that it stood under; empty is open ground. */
  coverKinds: string[];
  state: WinterState;
  /** Whether hardiness was tested: the tender check beside it fell below the floor. Null without one to tell by. */
  tested: boolean | null;
  share: SurvivalOfVariety | null;
  check: SurvivalOfVariety | null;
  /** Against the check; null for the check itself and without one. */
  difference: Pick<Difference, "variety" | "reference" | "estimate" | "low" | "high"> | null;
}

/** A yield as a multiple of the check's. */
export interface YieldOverCheck {
  reference: string;
  ratio: number;
  low: number;
  high: number;
  plots: number;
  /** Whether the limits lie evenly about it on the log scale: others come of a plot without yield and cannot be pooled. */
  isOnLog: boolean;
}

/** All that one trial says of one variety, small enough to be kept for every trial there is. */
export interface VarietyInTrial {
  trial: TrialFrame;
  variety: string;
  role: EntryRole;
  asOf: Day | null;
  assessment: AssessmentName;
  survivalFloor: number | null;
  /** One; or one for each cover where covers were dealt to main plots. */
  shares: WinterShare[];
  yieldRatio: YieldOverCheck | null;
  yieldMean: (YieldMean & { scale: string }) | null;
  /** Plants set out, and what took those that were lost. */
  plants: number;
  losses: { cause: string; plants: number }[];
  /** Over the whole of the trial, whatever day decides; null where nobody counted flower stems. */
  bolting: BoltingOfVariety | null;
}

/** What a trial says of each of its varieties, for setting winters side by side. */
export function varietiesInTrial(
  record: TrialRecord,
  findings: TrialFindings,
  frame: TrialFrame,
): VarietyInTrial[] {
  const bolting = boltingFinding(record, readPlots(record), null);
  return record.varieties.map((variety) => ({
    trial: frame,
    variety,
    role: variety === record.check ? "check" : variety === record.tenderCheck ? "tender-check" : "entry",
    asOf: findings.survival?.asOf ?? findings.at,
    assessment: record.decidingAssessment,
    survivalFloor: record.rule?.survivalFloor ?? null,
    shares: sharesOf(variety, record, findings, frame),
    yieldRatio: yieldRatioOf(variety, findings),
    yieldMean: yieldMeanOf(variety, findings),
    plants: findings.survival?.value.varieties.find((one) => one.variety === variety)?.plants ?? 0,
    losses: (findings.losses?.value ?? [])
      .filter((loss) => loss.variety === variety && loss.plants > 0)
      .map(({ cause, plants }) => ({ cause, plants })),
    bolting: bolting?.value.find((one) => one.variety === variety) ?? null,
  }));
}

/** A winter that the tender check stood (to the rule's floor, or half of it without one) was none that tests. */
function testedHardiness(record: TrialRecord, beside: SurvivalOfVariety[]): boolean | null {
  const tender = beside.find((one) => one.variety === record.tenderCheck);
  if (tender?.estimate == null) return null;
  return tender.estimate < (record.rule?.survivalFloor ?? 0.5);
}

function sharesOf(
  variety: string,
  record: TrialRecord,
  findings: TrialFindings,
  frame: TrialFrame,
): WinterShare[] {
  const { survival } = findings;
  const of = (some: SurvivalOfVariety[], name: string | null) =>
    some.find((one) => one.variety === name) ?? null;
  const main = survival?.value.main;
  const isCheck = variety === record.check;
  if (survival && main?.factor === "cover" && frame.covered.length > 0) {
    return frame.covered.flatMap(({ cover, kinds }): WinterShare[] => {
      const cells = main.cells.filter((cell) => cell.treatment === cover);
      const share = of(cells, variety);
      if (!share) return [];
      const check = isCheck ? null : of(cells, record.check);
      return [
        {
          coverKinds: kinds,
          state: stateOf(share, findings, frame),
          tested: testedHardiness(record, cells),
          share,
          check,
          difference: check && differenceOf(share, check, survival.level),
        },
      ];
    });
  }
  const beside = survival?.value.varieties ?? [];
  const share = of(beside, variety);
  return [
    {
      coverKinds: frame.coverKinds,
      state: stateOf(share, findings, frame),
      tested: testedHardiness(record, beside),
      share,
      check: isCheck ? null : of(beside, record.check),
      difference: isCheck
        ? null
        : (survival?.value.differences.find(
            (one) => one.variety === variety && one.reference === record.check,
          ) ?? null),
    },
  ];
}

function stateOf(share: SurvivalOfVariety | null, findings: TrialFindings, frame: TrialFrame): WinterState {
  if (!findings.survival) return findings.at === null ? "not planted" : "no plants";
  if (share?.estimate == null || !share.effectivePlants) return "no plants";
  if (findings.survival.value.lookSee) return "look-see";
  // The trial's own caution that its deciding assessment lies ahead of everything seen.
  const isToCome = findings.cautions.some((caution) => caution.code === "to-come");
  if (isToCome) return frame.isClosed ? "cut short" : "so far";
  return "counts";
}

function differenceOf(
  share: SurvivalOfVariety,
  check: SurvivalOfVariety,
  level: number,
): WinterShare["difference"] {
  const names = { variety: share.variety, reference: check.variety };
  if (share.estimate === null || check.estimate === null || !share.effectivePlants || !check.effectivePlants)
    return { ...names, estimate: null, low: null, high: null };
  const limits = newcombeDifference(
    { share: share.estimate, plants: share.effectivePlants },
    { share: check.estimate, plants: check.effectivePlants },
    level,
  );
  return { ...names, ...limits };
}

/** Limits by logs lie evenly about the log of the ratio, but for rounding. */
const evenTo = 1e-6;

function yieldRatioOf(variety: string, { yield: harvest }: TrialFindings): YieldOverCheck | null {
  const found = harvest?.value.differences.find((one) => one.variety === variety);
  if (!found || found.ratio === null || found.ratioLow === null || found.ratioHigh === null) return null;
  const { ratio, ratioLow: low, ratioHigh: high, reference } = found;
  const plots = harvest?.value.varieties.find((one) => one.variety === variety)?.plots ?? 0;
  const lean = low > 0 && ratio > 0 ? Math.abs(Math.log(high / ratio) - Math.log(ratio / low)) : Infinity;
  return { reference, ratio, low, high, plots, isOnLog: lean <= evenTo && high > low };
}

function yieldMeanOf(variety: string, { yield: harvest }: TrialFindings): VarietyInTrial["yieldMean"] {
  const mean = harvest?.value.varieties.find((one) => one.variety === variety);
  return mean && harvest && mean.mean !== null ? { ...mean, scale: harvest.scale } : null;
}
