import { type Clumping, clumping, type Dispersion } from "./clumping";
import { binomialVariance, dispersionAgainst } from "./dispersion-against";
import { type EffectiveShare, effectiveShares, groupTotals } from "./effective-shares";
import type { Estimate } from "./interval";
import { newcombeDifference } from "./newcombe-difference";
import { insist } from "./requirement";
import { weightedResidual } from "./weighted-residual";

/** A plot of a look-see bed: many entries once, one check repeated among them. */
export interface LookSeePlot {
  plot: string;
  variety: string;
  isCheck: boolean;
  /** Where it lies, both in one unit. */
  x: number;
  y: number;
  setOut: number;
  standing: number;
}

export interface LookSeeEntry extends Omit<EffectiveShare, "group"> {
  variety: string;
  /** The check plots it was set against, nearest first. */
  nearestChecks: string[];
  /** Entry − its nearest checks; null where either has no plants. */
  difference: Estimate | null;
}

/**
 * A look-see bed, in which each entry stands once and a check is repeated: how each entry stood, and against the two
 * checks nearest to it.
 *
 * Such a bed can tell dead from alive. It gives no ranks and no *grow again*: the best-looking entry is usually worse
 * than it looks (best of eight shown at 96 % was truly 78 %).
 *
 * @param plots one check variety (`isCheck`) in one or more plots, every other plot an entry
 * @param level confidence level of each interval
 *
 * Conventions: clumping from the check plots alone, on checks − 1 df; nearest by straight distance, an earlier plot in
 * the list before a later one at equal distance; the two checks are pooled.
 * Edges: one check plot leaves the prior alone; no check plot gives no differences.
 * Source: our own construction, as `effectivePlants`; evidence in CALIBRATION.md.
 * Checked: tests/unit/statistics/look-see-bed.test.ts (by hand from `effectivePlants` of the checks alone).
 */
export function lookSeeBed(
  plots: readonly LookSeePlot[],
  level: number,
): { dispersion: Dispersion; clumping: Clumping; entries: LookSeeEntry[] } {
  for (const { standing, setOut, x, y } of plots) {
    insist(
      standing >= 0 && standing <= setOut && Number.isFinite(setOut),
      "lookSeeBed",
      "0 ≤ standing ≤ setOut",
      `${standing} of ${setOut}`,
    );
    insist(Number.isFinite(x) && Number.isFinite(y), "lookSeeBed", "a place for every plot", `${x}, ${y}`);
  }
  const checks = plots.filter((plot) => plot.isCheck && plot.setOut > 0);
  insist(new Set(checks.map((plot) => plot.variety)).size <= 1, "lookSeeBed", "one check variety", "several");
  const dispersion = checkDispersion(checks);
  const belief = clumping(dispersion);
  const share = (own: readonly LookSeePlot[]) =>
    effectiveShares(
      groupTotals(own, () => "own"),
      belief,
      level,
      1,
    ).shares[0];
  const entries = plots
    .filter((plot) => !plot.isCheck)
    .map((plot): LookSeeEntry => {
      const away = (check: LookSeePlot) => Math.hypot(check.x - plot.x, check.y - plot.y);
      const nearest = [...checks].sort((a, b) => away(a) - away(b)).slice(0, 2);
      const { group: _, ...own } = share([plot]);
      const check = nearest.length > 0 ? share(nearest) : null;
      const difference =
        own.share !== null &&
        own.effectivePlants !== null &&
        check?.share != null &&
        check.effectivePlants !== null
          ? newcombeDifference(
              { share: own.share, plants: own.effectivePlants },
              { share: check.share, plants: check.effectivePlants },
              level,
            )
          : null;
      return { variety: plot.variety, ...own, nearestChecks: nearest.map((each) => each.plot), difference };
    });
  return { dispersion, clumping: belief, entries };
}

function checkDispersion(checks: readonly LookSeePlot[]): Dispersion {
  const residual = weightedResidual(
    checks.map((plot) => plot.standing / plot.setOut),
    checks.map((plot) => plot.setOut),
    [checks.map(() => 0)],
  );
  const setOut = checks.reduce((sum, plot) => sum + plot.setOut, 0);
  const standing = checks.reduce((sum, plot) => sum + plot.standing, 0);
  return dispersionAgainst(residual, [binomialVariance(standing, setOut)]);
}
