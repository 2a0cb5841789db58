import { normalQuantile } from "./normal";
import { insistOnPlots, type PlotCount } from "./plot-count";
import { insist } from "./requirement";
import { studentTQuantile } from "./student-t";
import { wilsonInterval } from "./wilson-interval";

interface DesignEffectShare {
  variety: string;
  share: number | null;
  /** Plants cut down by the design effect and by z/t. */
  effectivePlants: number | null;
  low: number | null;
  high: number | null;
}

export interface PublishedDesignEffect {
  /** Intra-class correlation by analysis of variance, at least 0; null where no variety has two plots or plots hold one plant. */
  icc: number | null;
  df: number;
  varieties: DesignEffectShare[];
}

/**
 * The published form, for the working: Wilson's interval on the effective sample size n/(1 + (m − 1)ICC), with t in
 * place of z. It feeds no verdict: it covers as well as `effectivePlants` and is wider where df are few.
 *
 * @param plots counts per plot; blocks are not fitted, plots are taken as nested in varieties
 * @param level confidence level
 *
 * Conventions: ICC by analysis of variance from plots nested in varieties, exact n0, negative values set to 0;
 * m = Σ n²/Σ n; t on Σ(plots − 1) df, which equals Wilson at z with the sample cut by a further (z/t)².
 * Edges: with no second plot of any variety, or one plant in every plot, the ICC cannot be estimated: null, no limits.
 * Source: franco-2019 (Wilson on the effective sample size); analysis-of-variance ICC as in donner-1986.
 * Checked: tests/reference/effective-plants (R twin).
 */
export function publishedDesignEffect(plots: readonly PlotCount[], level: number): PublishedDesignEffect {
  insistOnPlots("publishedDesignEffect", plots, "crd");
  insist(level > 0 && level < 1, "publishedDesignEffect", "0 < level < 1", level);
  const groups = [...new Set(plots.map((plot) => plot.variety))].map((variety) => {
    const held = plots.filter((plot) => plot.variety === variety && plot.setOut > 0);
    const setOut = held.reduce((sum, plot) => sum + plot.setOut, 0);
    const standing = held.reduce((sum, plot) => sum + plot.standing, 0);
    const squares = held.reduce((sum, plot) => sum + plot.setOut ** 2, 0);
    return { variety, held, setOut, standing, clusterSize: squares / setOut };
  });
  const filled = groups.filter((group) => group.setOut > 0);
  let between = 0;
  let within = 0;
  let df = 0;
  let dfWithin = 0;
  let size = 0;
  for (const { held, setOut, standing, clusterSize } of filled) {
    df += held.length - 1;
    size += setOut - clusterSize;
    for (const plot of held) {
      const share = plot.standing / plot.setOut;
      between += plot.setOut * (share - standing / setOut) ** 2;
      within += plot.setOut * share * (1 - share);
      dfWithin += plot.setOut - 1;
    }
  }
  const estimable = df > 0 && dfWithin > 0;
  let icc: number | null = null;
  if (estimable) {
    const [msb, msw, n0] = [between / df, within / dfWithin, size / df];
    // All plots all or none: both mean squares are 0 when every variety is uniform, and nothing speaks of clumping.
    icc = msb === 0 && msw === 0 ? 0 : Math.max(0, (msb - msw) / (msb + (n0 - 1) * msw));
  }
  const z = normalQuantile((1 - level) / 2);
  const t = estimable ? studentTQuantile((1 - level) / 2, df) : Number.NaN;
  return {
    icc,
    df,
    varieties: groups.map(({ variety, setOut, standing, clusterSize }) => {
      const share = setOut === 0 ? null : standing / setOut;
      if (share === null || icc === null)
        return { variety, share, effectivePlants: null, low: null, high: null };
      const effectivePlants = (setOut / (1 + (clusterSize - 1) * icc)) * (z / t) ** 2;
      const limits = wilsonInterval(
        Math.min(share * effectivePlants, effectivePlants),
        effectivePlants,
        level,
      );
      return { variety, share, effectivePlants, ...limits };
    }),
  };
}
