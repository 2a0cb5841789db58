import { friedmanTest } from "@/lib/statistics/friedman-test";
import { gamesHowell } from "@/lib/statistics/games-howell";
import { kruskalWallis } from "@/lib/statistics/kruskal-wallis";
import { leveneTest } from "@/lib/statistics/levene-test";
import type { LinearModel } from "@/lib/statistics/linear-model";
import type { VarianceRatio } from "@/lib/statistics/variance-ratio";
import { welchTest } from "@/lib/statistics/welch-test";
import type { FTest, YieldWorking } from "./finding";
import { neighbourhood } from "./layout";
import type { TrialRecord } from "./trial-record";
import type { ModelPlot } from "./yield-model";

/**
 * The same question asked otherwise, for whoever doubts the model: without equal spreads, by ranks, and whether the
 * spreads are equal at all. They are shown; no method is chosen by them.
 */
export function otherTests(
  record: TrialRecord,
  plots: ModelPlot[],
  model: LinearModel,
  varieties: readonly string[],
  level: number,
): Pick<YieldWorking, "welch" | "brownForsythe" | "kruskalWallis" | "friedman" | "gamesHowell"> {
  const none = { welch: null, brownForsythe: null, kruskalWallis: null, friedman: null, gamesHowell: [] };
  if (varieties.length < 2) return none;
  const isUnblocked =
    record.design === "crd" || plots.some((one) => neighbourhood(one.plot, record.design) === null);
  const groups = varieties.map((variety) =>
    plots.flatMap((one, place) =>
      one.plot.variety === variety
        ? [{ response: one.response, left: isUnblocked ? one.response : model.residuals[place] }]
        : [],
    ),
  );
  const brownForsythe = toldRatio(leveneTest(groups.map((group) => group.map(({ left }) => left))));
  const responses = groups.map((group) => group.map(({ response }) => response));
  if (record.design === "latin") return { ...none, brownForsythe };
  if (!isUnblocked) return { ...none, brownForsythe, friedman: friedman(record, plots, varieties) };
  const named = varieties.map((variety, place) => ({ level: variety, values: responses[place] }));
  return {
    welch: toldRatio(welchTest(responses)),
    brownForsythe,
    kruskalWallis: toldChiSquare(kruskalWallis(responses)),
    friedman: null,
    gamesHowell: gamesHowell(named, level).map(
      ({ level: a, reference: b, estimate, se, df, low, high, p }) => ({
        a,
        b,
        estimate,
        se,
        df,
        low,
        high,
        p,
      }),
    ),
  };
}

/** An F test with all its parts, or nothing. */
export function toldRatio({ f, df1, df2, p }: VarianceRatio): FTest | null {
  return f === null || df2 === null || p === null ? null : { f, df1, df2, p };
}

function toldChiSquare({
  statistic,
  df,
  p,
}: ReturnType<typeof kruskalWallis>): YieldWorking["kruskalWallis"] {
  return statistic === null || p === null ? null : { statistic, df, p };
}

/** Friedman's test on those blocks in which every variety has one plot with a yield. */
function friedman(
  record: TrialRecord,
  plots: ModelPlot[],
  varieties: readonly string[],
): YieldWorking["friedman"] {
  const blocks = new Map<string, ModelPlot[]>();
  for (const one of plots) {
    const block = neighbourhood(one.plot, record.design) ?? "";
    blocks.set(block, [...(blocks.get(block) ?? []), one]);
  }
  const complete = [...blocks.values()].flatMap((own) => {
    const values = varieties.map((variety) => own.filter((one) => one.plot.variety === variety));
    return values.every((found) => found.length === 1) ? [values.map(([one]) => one.response)] : [];
  });
  if (complete.length < 2) return null;
  const told = toldChiSquare(friedmanTest(complete));
  return told && { ...told, blocks: complete.length };
}
