import type { SplitPlot } from "@/lib/statistics/balanced-split-plot";
import type { Factor } from "@/lib/statistics/factor";
import { type FittedModel, linearModel } from "@/lib/statistics/linear-model";
import { allPairs, marginalDifferences, marginalMeans } from "@/lib/statistics/marginal-means";
import { type MixedModel, mixedModel } from "@/lib/statistics/mixed-model";
import { splitPlotModel } from "@/lib/statistics/split-plot-model";
import { tukeyKramer } from "@/lib/statistics/tukey-kramer";
import type { MainFactor } from "@/lib/words/trial";
import { cite } from "./cite";
import type { AnovaRow, YieldOfMain } from "./finding";
import { treatmentName } from "./layout";
import type { TrialRecord } from "./trial-record";
import { comparisons, type FittedYield, residualsOf } from "./yield";
import { layoutFactors, type ModelPlot, plotFactor, splitPlotLayout, varietyFactor } from "./yield-model";

/**
 * The analysis of a trial whose plots have more than one error: covers or sowing dates on main plots, an augmented bed,
 * incomplete blocks. A split plot with every plot in place has exact tests by its strata; everything else is a mixed
 * model by REML with Kenward and Roger's df: blocks random, entries fixed, complete replicates fixed.
 */
export function fitMixedYield(record: TrialRecord, plots: ModelPlot[], level: number): FittedYield {
  const variety = varietyFactor(plots, record.varieties);
  return record.design === "split-plot"
    ? fitSplitPlot(record, plots, variety, level)
    : fitRandomBlocks(record, plots, variety, level);
}

function responses(plots: ModelPlot[]): number[] {
  return plots.map((one) => one.response);
}

/** The working of a layout with several errors: residuals within the smallest blocks. */
function workingWithin(
  record: TrialRecord,
  plots: ModelPlot[],
  fixed: Factor[],
): Pick<FittedYield, "residualDf" | "working"> {
  const variables = [...layoutFactors(plots, record.design), ...fixed];
  const terms = variables.map(({ name }) => [name]);
  const within = linearModel(
    responses(plots),
    variables,
    fixed.length > 1 ? [...terms, fixed.map(({ name }) => name)] : terms,
  );
  return {
    residualDf: within.residualDf,
    working: {
      residuals: residualsOf(within, plots),
      tukeyOneDf: null,
      lsd: null,
      relativeEfficiency: null,
      welch: null,
      brownForsythe: null,
      kruskalWallis: null,
      friedman: null,
      gamesHowell: [],
    },
  };
}

function fitSplitPlot(record: TrialRecord, plots: ModelPlot[], variety: Factor, level: number): FittedYield {
  const layout = splitPlotLayout(record, plots);
  const { block, treatment } = layout;
  const name = treatmentName(record);
  const working = workingWithin(record, plots, [treatment, variety]);
  const model = splitPlotModel(responses(plots), layout, variety);
  if (model.isBalanced) {
    const { fit: balanced, main: onMain, within } = model;
    const residual = balanced.strata[balanced.strata.length - 1];
    return {
      ...working,
      model: `${onMain.name} on main plots, ${within.name} within, by strata`,
      sources: cite("cochran-cox-1957", "satterthwaite-1946", "searle-1980", "dunnett-1955", "kramer-1956"),
      anova: strataRows(balanced, block, onMain),
      residualDf: residual.df,
      residualMs: balanced.leavesNothing ? null : residual.ms,
      ...comparisons(balanced, variety.levels, record, level),
      main: mainOf(balanced, treatment, variety, name, level),
      variance: balanced.components,
    };
  }
  const { fit, terms } = model;
  return {
    ...working,
    model: `${terms.map((term) => term.join(" × ")).join(" + ")}; block and main plot random`,
    sources: mixedSources(),
    anova: testRows(fit, working.residualDf),
    residualMs: residualOf(fit),
    ...comparisons(fit, variety.levels, record, level),
    main: treatment.levels.length > 1 ? mainOf(fit, treatment, variety, name, level) : null,
    variance: fit.components,
  };
}

function fitRandomBlocks(
  record: TrialRecord,
  plots: ModelPlot[],
  variety: Factor,
  level: number,
): FittedYield {
  const replicate = plotFactor("replicate", plots, (plot) => plot.replicate);
  const inReplicates = record.design === "incomplete-blocks" && replicate.levels.length > 1;
  const block = layoutFactors(plots, record.design)[0];
  const variables = inReplicates ? [replicate, variety] : [variety];
  const terms = variables.map(({ name }) => [name]);
  const random = block ? [block] : [];
  const model = mixedModel(responses(plots), variables, terms, random);
  const within = workingWithin(record, plots, [variety]);
  return {
    ...within,
    model: `${terms.map(([name]) => name).join(" + ")}${block ? "; block random" : ""}`,
    sources: mixedSources(),
    anova: testRows(model, within.residualDf),
    residualMs: residualOf(model),
    ...comparisons(model, variety.levels, record, level),
    main: null,
    variance: model.components,
  };
}

function mixedSources(): string[] {
  return cite("patterson-thompson-1971", "kenward-roger-1997", "searle-1980", "dunnett-1955", "kramer-1956");
}

function residualOf(model: MixedModel): number | null {
  return model.components.find((part) => part.component === "residual")?.estimate ?? null;
}

/** F tests of the fixed terms, each with its own df of error, and the residual. */
function testRows(model: MixedModel, residualDf: number): AnovaRow[] {
  return [
    ...model.tests.map(({ term, df1, df2, f, p }) => ({ term, df: df1, df2, ss: null, ms: null, f, p })),
    { term: "residual", df: residualDf, df2: null, ss: null, ms: residualOf(model), f: null, p: null },
  ];
}

/** The classic table: each effect above the error of its own stratum. */
function strataRows({ strata, tests }: SplitPlot, block: Factor, main: Factor): AnovaRow[] {
  const [ofBlocks, ofMain, within] = strata;
  const error = (term: string, { df, ms }: SplitPlot["strata"][number]): AnovaRow => ({
    term,
    df,
    df2: null,
    ss: ms === null ? null : ms * df,
    ms,
    f: null,
    p: null,
  });
  const effect = (place: number, { ms }: SplitPlot["strata"][number]): AnovaRow => {
    const { term, df1, df2, f, p } = tests[place];
    const own = f === null || ms === null ? null : f * ms;
    return { term, df: df1, df2, ss: own === null ? null : own * df1, ms: own, f, p };
  };
  return [
    error(block.name, ofBlocks),
    effect(0, ofMain),
    error(`${block.name} × ${main.name}`, ofMain),
    effect(1, within),
    effect(2, within),
    error("residual", within),
  ];
}

/** Means of what main plots were dealt, all pairs of them, and each variety under each. */
function mainOf(
  model: FittedModel,
  main: Factor,
  variety: Factor,
  name: MainFactor,
  level: number,
): YieldOfMain {
  const pairs =
    main.levels.length < 2
      ? []
      : tukeyKramer(
          marginalDifferences(model, name, allPairs(main.levels), level),
          main.levels.length,
          level,
        );
  return {
    factor: name,
    means: marginalMeans(model, name, level).map((mean) => ({
      treatment: mean.level,
      plots: mean.count,
      mean: mean.estimate,
      se: mean.se,
      df: mean.df,
      low: mean.low,
      high: mean.high,
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
    cells: main.levels.flatMap((treatment, code) =>
      marginalMeans(model, "variety", level, { [name]: treatment }).map((mean) => ({
        treatment,
        variety: mean.level,
        plots: variety.codes.filter(
          (own, plot) => variety.levels[own] === mean.level && main.codes[plot] === code,
        ).length,
        mean: mean.estimate,
        se: mean.se,
        df: mean.df,
        low: mean.low,
        high: mean.high,
      })),
    ),
  };
}
