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
import { proposalFinding } from "./proposals";
import { assessedOn, lastTold, lookDays, type ReadPlot, readPlots } from "./read-plots";
import { scoreFindings } from "./scores";
import { fitShares } from "./share-fit";
import { standingFinding } from "./standing";
import { survivalFinding } from "./survival";
import { survivalCautions } from "./survival-cautions";
import { trialCautions } from "./trial-cautions";
import type { TrialRecord } from "./trial-record";
import { yieldCautions } from "./yield-cautions";
import { modelPlots, yieldFinding } from "./yield-finding";
import { type TrialPicks, trialPicks } from "./yield-plots";
import { yieldRatios } from "./yield-ratio";

export interface AnalysisOptions {
  /** The day to tell of; without one, the deciding assessment, or the last day seen where that is still to come. */
  at?: Day;
  /** Grams per plant set out unless said otherwise. */
  yieldPer?: YieldPer;
  level?: number;
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
  const read = readPlots(record);
  const looks = lookDays(read);
  const at = options.at ?? dayToTell(record, read, looks);
  const seen = at === null ? [] : seenPlots(read, looks, at);
  const stands = at === null || seen.length === 0 ? [] : plotStands(seen, at);
  const tookOn = assessedOn(record, "took", looks);

  const survival =
    at === null || stands.length === 0
      ? null
      : survivalFinding({ record, step: "both", stands, from: null, asOf: at, level, redeal });
  const steps =
    at !== null && tookOn !== null && tookOn < at ? inSteps(record, seen, stands, tookOn, at, level) : null;
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
    });
  }

  const picks = trialPicks(record, read, at);
  const yieldOf = yieldFinding({ record, picks, stands, per, asOf: at, level, redeal });
  if (yieldOf) yieldOf.cautions = yieldCautions(record, yieldOf.value, picks);
  const proposals = proposalFinding(record, {
    survival,
    fit: survival && at !== null ? fitShares({ record, stands, from: null, asOf: at, level }, 1) : null,
    ratios: yieldRatios(record, modelPlots({ picks, stands, per: decidingPer(record) }), level),
  });

  return {
    trial: {
      design: record.design,
      plots: record.plots.length,
      varieties: record.varieties,
      blocks: blockCount(record),
      check: record.check,
      tenderCheck: record.tenderCheck,
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

/** The deciding assessment's day when somebody has looked since; otherwise the last day of which anything is told. */
function dayToTell(record: TrialRecord, read: ReadPlot[], looks: Day[]): Day | null {
  const deciding = assessedOn(record, record.decidingAssessment, looks);
  const last = lastTold(read);
  return deciding !== null && last !== null && deciding < last ? deciding : last;
}

/** A yield floor is judged per plant set out, whatever is on show: what was lost must count. */
function decidingPer(record: TrialRecord): YieldPer {
  return record.plots.some((plot) => plot.plants !== null) ? "plant" : "plot";
}

/**
 * The plots of which somebody told how many stand by a day. When others were counted, a plot that was not is unknown,
 * not all standing; when only losses are noted, a plot without any lost none.
 */
function seenPlots(read: ReadPlot[], looks: Day[], at: Day): ReadPlot[] {
  if (!looks.some((day) => day <= at)) return [];
  const isTold = (one: ReadPlot, kinds: string[]) =>
    one.facts.some((fact) => fact.seenOn <= at && kinds.includes(fact.kind));
  const isCounted = read.some((one) => isTold(one, ["stand"]));
  if (!isCounted) return read;
  return read.filter((one) => isTold(one, ["stand", "loss", "removed", "regrew"]));
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
