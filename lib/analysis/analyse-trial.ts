import type { Day } from "@/lib/words/day";
import { boltingFinding } from "./bolting";
import { causeFinding } from "./causes";
import { inOrder } from "./caution-order";
import { countFindings } from "./counts";
import { decisivePlots } from "./decisive-plots";
import type { Finding, PlotOutcome, Survival, TrialFindings, YieldPer } from "./finding";
import { blockCount } from "./layout";
import { lossFinding } from "./losses";
import { type PlotStand, plotStands, sinceDay } from "./plot-stand";
import { proposalFinding, testedHardiness } from "./proposals";
import { assessedOn, type ReadPlot } from "./read-plots";
import { readTrial } from "./read-trial";
import { scoreFindings } from "./scores";
import { fitShares } from "./share-fit";
import { standingFinding } from "./standing";
import { survivalFinding } from "./survival";
import { survivalCautions } from "./survival-cautions";
import { fitCells } from "./survival-of-main";
import { trialCautions } from "./trial-cautions";
import type { TrialRecord } from "./trial-record";
import { yieldCautions } from "./yield-cautions";
import { modelPlots, yieldFinding } from "./yield-finding";
import type { TrialPicks } from "./yield-plots";
import { yieldRatios } from "./yield-ratio";

export interface AnalysisOptions {
  /** The day to tell of; without one, the deciding assessment, or the last day seen where that is still to come. */
  at?: Day;
  /** Grams per plant set out unless said otherwise. */
  yieldPer?: YieldPer;
  level?: number;
  /** Code of a plot to leave out, to see what the answer becomes. */
  leavingOut?: string;
  /** Leave out the p-values that come of dealing the layout again, which take tens of milliseconds. */
  withoutRedealing?: boolean;
}

/**
 * Everything that a trial's record says on one day: what took, wintered and stood, what was lost to what, standing over
 * time, yield, bolting, and what the rule proposes, each with its n, day, method, scale, level and cautions. The same
 * record always gives the same findings.
 */
export function analyseTrial(record: TrialRecord, options: AnalysisOptions = {}): TrialFindings {
  const level = options.level ?? 0.95;
  const redeal = !options.withoutRedealing;
  const per = options.yieldPer ?? "plant";
  const reading = readTrial(record, options.at ?? null, options.leavingOut ?? null);
  const { read, seen, looks, at, stands, tookOn, picks } = reading;

  const survival =
    at === null || stands.length === 0
      ? null
      : survivalFinding({ record, step: "both", stands, from: null, asOf: at, level, redeal });
  const steps = at !== null && tookOn !== null ? inSteps(record, seen, stands, tookOn, at, level) : null;
  const decisive = survival ? decisivePlots(record, stands, survival.value.differences, level) : [];
  if (survival) {
    const neverSeen = read.filter((one) => !seen.includes(one)).map((one) => one.plot.code);
    survival.cautions = survivalCautions({
      record,
      survival: survival.value,
      stands,
      neverSeen,
      decisive,
      asOf: at,
      level,
    });
  }

  const yieldOf = yieldFinding({ record, picks, stands, per, asOf: at, level, redeal });
  if (yieldOf) yieldOf.cautions = yieldCautions(record, yieldOf.value, picks);
  const decidingOn = assessedOn(record, record.decidingAssessment, looks);
  const proposals = proposalFinding(
    record,
    {
      survival,
      fit: survival && at !== null ? fitShares({ record, stands, from: null, asOf: at, level }, 1) : null,
      cells: survival ? fitCells(record, stands, level) : null,
      ratios: yieldRatios(record, modelPlots({ picks, stands, per: decidingPer(record) }), level),
    },
    decidingOn !== null && at !== null && decidingOn > at,
  );

  return {
    trial: {
      design: record.design,
      plots: record.plots.length,
      varieties: record.varieties,
      blocks: blockCount(record),
      check: record.check,
      tenderCheck: record.tenderCheck,
      tested: testedHardiness(record, survival),
    },
    at,
    took: steps?.took ?? null,
    wintered: steps?.wintered ?? null,
    survival,
    losses: survival ? lossFinding(stands, survival) : null,
    standing: at === null ? null : standingFinding({ record, stands, read: seen, looks, asOf: at, level }),
    causes: at === null ? null : causeFinding(record, stands, at, level),
    yield: yieldOf,
    scores: scoreFindings(record, read, at, level),
    counts: countFindings(record, read, at, level),
    bolting: boltingFinding(record, read, at),
    proposals,
    plots: plotOutcomes(read, stands, picks, at),
    cautions: inOrder(trialCautions({ record, read, looks, at, survival, picks })),
  };
}

/** A yield floor is judged per plant set out, whatever is on show: what was lost must count. */
function decidingPer(record: TrialRecord): YieldPer {
  return record.plots.some((plot) => plot.plants !== null) ? "plant" : "plot";
}

function inSteps(
  record: TrialRecord,
  seen: ReadPlot[],
  stands: PlotStand[],
  tookOn: Day,
  at: Day,
  level: number,
): { took: Finding<Survival> | null; wintered: Finding<Survival> | null } {
  const common = { record, level, redeal: false };
  const atTook = plotStands(seen, tookOn);
  const since = stands.map((stand) => sinceDay(stand, tookOn));
  return {
    took: survivalFinding({ ...common, step: "took", stands: atTook, from: null, asOf: tookOn }),
    wintered: survivalFinding({ ...common, step: "wintered", stands: since, from: tookOn, asOf: at }),
  };
}

function plotOutcomes(
  read: ReadPlot[],
  stands: PlotStand[],
  picks: TrialPicks,
  at: Day | null,
): PlotOutcome[] {
  return read.map(({ plot, outFrom }) => {
    const stand = stands.find((one) => one.plot.id === plot.id);
    return {
      plotId: plot.id,
      code: plot.code,
      variety: plot.variety,
      block: plot.block,
      setOut: stand?.setOut ?? plot.plants,
      standing: stand?.standing ?? null,
      lost: stand?.lost ?? 0,
      leftOn: outFrom !== null && at !== null && outFrom <= at ? outFrom : null,
      yieldG: picks.plots.find((own) => own.plot.id === plot.id)?.totalG ?? null,
    };
  });
}
