import { describe, expect, it } from "vitest";
import { kaplanMeier } from "@/lib/statistics/kaplan-meier";
import { kaplanMeierLimits } from "@/lib/statistics/kaplan-meier-limits";
import { restrictedMean } from "@/lib/statistics/restricted-mean";
import { standingQuantile } from "@/lib/statistics/standing-quantile";
import { agreement } from "../agreement";
import reference from "./case.json";

interface Curve {
  table: Record<string, (number | null)[]>;
  quantiles: Record<"loglog" | "plain", Record<"q" | "lower" | "upper", (number | null)[]>>;
  restricted: { until: number; mean: number; se: number };
}

const { agree, agreeAll } = agreement("standing curve", reference.tolerance);

const curves = reference.cases.flatMap(({ name, data, expected }) =>
  Object.entries(expected as unknown as Record<string, Curve>).map(([group, curve]) => {
    const own = data.time.map((_, plant) => group === "all plants" || data.group[plant] === group);
    const times = data.time.filter((_, plant) => own[plant]);
    const causes = data.status.filter((_, plant) => own[plant]);
    return [`${name}: ${group}`, { times, causes }, curve] as const;
  }),
);

describe("the standing curve against R", () => {
  it.each(curves)("%s", (_name, lifetimes, { table, quantiles, restricted }) => {
    const curve = kaplanMeier(lifetimes);
    agreeAll(curve.times, table.time);
    agreeAll(curve.atRisk, table.n_risk);
    agreeAll(curve.lost, table.n_event);
    agreeAll(curve.censored, table.n_censor);
    agreeAll(curve.share, table.surv);
    // Once all are lost R has 0 × ∞ where we have 0.
    for (const [at, share] of curve.share.entries())
      if (share > 0) agree(Math.sqrt(curve.variance[at]), table.se_surv_greenwood[at]);
    for (const [scale, name] of [
      ["plain", "plain"],
      ["log–log", "loglog"],
    ] as const) {
      const limits = kaplanMeierLimits(curve, scale, 0.95);
      for (const [at, share] of curve.share.entries()) {
        // R gives limits of no width where Greenwood's variance is 0; we give none.
        if (share === 1 || share === 0) expect([limits.low[at], limits.high[at]]).toEqual([null, null]);
        else {
          agree(limits.low[at], table[`lower_${name}`][at]);
          agree(limits.high[at], table[`upper_${name}`][at]);
        }
      }
      for (const [place, lostShare] of [0.25, 0.5, 0.75].entries()) {
        const quantile = standingQuantile(curve, lostShare, limits);
        agree(quantile.time, quantiles[name].q[place]);
        agree(quantile.low, quantiles[name].lower[place]);
        agree(quantile.high, quantiles[name].upper[place]);
      }
    }
    const mean = restrictedMean(curve, restricted.until);
    agree(mean.mean, restricted.mean);
    agree(mean.se, restricted.se);
  });
});
