import { analysisOfVariance } from "@/lib/statistics/analysis-of-variance";
import { dunnett } from "@/lib/statistics/dunnett";
import { leastSignificantDifference } from "@/lib/statistics/least-significant-difference";
import { type FittedModel, type LinearModel, linearModel } from "@/lib/statistics/linear-model";
import { allPairs, marginalDifferences, marginalMeans } from "@/lib/statistics/marginal-means";
import { normalQuantile } from "@/lib/statistics/normal";
import { randomStream } from "@/lib/statistics/random-stream";
import { relativeEfficiency } from "@/lib/statistics/relative-efficiency";
import { tukeyKramer } from "@/lib/statistics/tukey-kramer";
import { tukeyOneDf } from "@/lib/statistics/tukey-one-df";
import { cite } from "./cite";
import type {
  AnovaRow,
  ModelDifference,
  PlotResidual,
  YieldMean,
  YieldOfMain,
  YieldPair,
  YieldVariance,
  YieldWorking,
} from "./finding";
import type { TrialRecord } from "./trial-record";
import { layoutFactors, type ModelPlot, varietyFactor } from "./yield-model";
import { otherTests, toldRatio } from "./yield-other-tests";

/** What a model says of the varieties, before the check's ratio and the working are put beside it. */
export interface FittedYield {
  model: string;
  sources: string[];
  anova: AnovaRow[];
  residualDf: number;
  residualMs: number | null;
  means: YieldMean[];
  differences: ModelDifference[];
  pairs: YieldPair[];
  variance: YieldVariance[];
  /** What whole main plots were dealt, where they were. */
  main: YieldOfMain | null;
  working: Omit<YieldWorking, "leaveOneOut" | "randomisation">;
}

/** The analysis of a trial whose plots have one error: completely randomised, blocks, Latin square. */
export function fitFixedYield(record: TrialRecord, plots: ModelPlot[], level: number): FittedYield {
  const variety = varietyFactor(plots, record.varieties);
  const layout = layoutFactors(plots, record.design);
  const variables = [...layout, variety];
  const model = linearModel(
    plots.map((one) => one.response),
    variables,
    variables.map(({ name }) => [name]),
  );
  const efficiency = layout.length === 1 ? relativeEfficiency(model) : null;
  return {
    model: variables.map(({ name }) => name).join(" + "),
    sources: cite(
      "searle-1980",
      "dunnett-1955",
      "kramer-1956",
      "tukey-1949",
      "brown-forsythe-1974",
      "cochran-cox-1957",
    ),
    anova: analysisOfVariance(model).map(({ term, df, ss, ms, f, p }) => ({
      term,
      df,
      df2: null,
      ss,
      ms,
      f,
      p,
    })),
    residualDf: model.residualDf,
    residualMs: model.leavesNothing ? null : model.residualMs,
    ...comparisons(model, variety.levels, record, level),
    main: null,
    variance: [],
    working: {
      residuals: residualsOf(model, plots),
      tukeyOneDf: layout.length > 0 ? toldRatio(tukeyOneDf(model)) : null,
      lsd: leastDifference(model, plots, level),
      relativeEfficiency: efficiency?.adjusted ?? null,
      ...otherTests(record, plots, model, variety.levels, level),
    },
  };
}

/** The least significant difference, which is one number only where every variety has as many plots. */
function leastDifference(model: LinearModel, plots: ModelPlot[], level: number): number | null {
  const counts = new Map<string, number>();
  for (const { plot } of plots) counts.set(plot.variety, (counts.get(plot.variety) ?? 0) + 1);
  const [first, ...others] = [...counts.values()];
  if (others.length === 0 || others.some((count) => count !== first)) return null;
  return leastSignificantDifference(model, first, level);
}

/** Means, differences to the check and all pairs of a fitted model, fixed or mixed. */
export function comparisons(
  model: FittedModel,
  present: readonly string[],
  record: TrialRecord,
  level: number,
): Pick<FittedYield, "means" | "differences" | "pairs"> {
  const { check } = record;
  const pairs =
    present.length < 2
      ? []
      : tukeyKramer(marginalDifferences(model, "variety", allPairs(present), level), present.length, level);
  const toCheck =
    check !== null && present.includes(check) && present.length > 1
      ? dunnett(model, "variety", check, level, randomStream(record.seed))
      : [];
  return {
    means: marginalMeans(model, "variety", level).map(
      ({ level: variety, count, estimate, se, df, low, high }) => ({
        variety,
        plots: count,
        mean: estimate,
        se,
        df,
        low,
        high,
      }),
    ),
    differences: toCheck.map(({ level: variety, reference, estimate, se, df, low, high, p }) => ({
      variety,
      reference,
      estimate,
      se,
      df,
      low,
      high,
      p,
    })),
    pairs: pairs.map(({ level: a, reference: b, estimate, se, df, low, high, p }) => ({
      a,
      b,
      estimate,
      se,
      df,
      low,
      high,
      p,
    })),
  };
}

/** What a fixed model leaves over of each plot. */
export function residualsOf(model: LinearModel, plots: ModelPlot[]): PlotResidual[] {
  const studentised = plots.map((_, place) => {
    const left = 1 - model.leverages[place];
    if (model.residualMs === null || model.leavesNothing || left < 1e-9) return null;
    return model.residuals[place] / Math.sqrt(model.residualMs * left);
  });
  const scores = normalScores(studentised);
  return plots.map(({ plot }, place) => ({
    plot: plot.code,
    variety: plot.variety,
    fitted: model.fitted[place],
    residual: model.residuals[place],
    leverage: model.leverages[place],
    studentised: studentised[place],
    normalScore: scores[place],
  }));
}

/** Where normal values of these ranks would lie, (rank − 3/8)/(n + 1/4) (Blom 1958); ties in the order given. */
function normalScores(values: (number | null)[]): (number | null)[] {
  const ranked = values
    .flatMap((value, place) => (value === null ? [] : [{ value, place }]))
    .sort((a, b) => a.value - b.value);
  const scores: (number | null)[] = values.map(() => null);
  ranked.forEach(({ place }, rank) => {
    scores[place] = normalQuantile((rank + 1 - 0.375) / (ranked.length + 0.25));
  });
  return scores;
}
