import { type Clumping, clumpedQuantile } from "./clumping";
import { normalQuantile } from "./normal";
import { insist } from "./requirement";
import { wilsonInterval } from "./wilson-interval";

/** Plants of one group over its plots, and what decides how much they tell. */
export interface GroupTotal {
  group: string;
  /** Plots that held plants. */
  plots: number;
  setOut: number;
  standing: number;
  /** Σ (plants set out in a plot)². */
  squares: number;
}

export interface EffectiveShare {
  group: string;
  plots: number;
  setOut: number;
  standing: number;
  /** Null, as are the limits and effective plants, where nothing was set out. */
  share: number | null;
  low: number | null;
  high: number | null;
  /** How many independent plants this group's plants tell as much as. */
  effectivePlants: number | null;
  /** Plants per plot, Σ n²/Σ n. */
  clusterSize: number | null;
  /** The multiplier that took the place of z. */
  multiplier: number | null;
}

/** Totals of each group over its plots, in order of first appearance. */
export function groupTotals<Plot extends { setOut: number; standing: number }>(
  plots: readonly Plot[],
  groupOf: (plot: Plot) => string,
): GroupTotal[] {
  const totals = new Map<string, GroupTotal>();
  for (const plot of plots) {
    const group = groupOf(plot);
    let total = totals.get(group);
    if (!total) {
      total = { group, plots: 0, setOut: 0, standing: 0, squares: 0 };
      totals.set(group, total);
    }
    if (plot.setOut > 0) total.plots += 1;
    total.setOut += plot.setOut;
    total.standing += plot.standing;
    total.squares += plot.setOut ** 2;
  }
  return [...totals.values()];
}

/** Wilson's interval of each group on its plants cut down to n(z/k)²; see `effectivePlants` for what that means. */
export function effectiveShares(
  totals: readonly GroupTotal[],
  belief: Clumping,
  level: number,
  comparisons: number,
): { level: number; shares: EffectiveShare[] } {
  insist(level > 0 && level < 1, "effectiveShares", "0 < level < 1", level);
  insist(
    Number.isInteger(comparisons) && comparisons >= 1,
    "effectiveShares",
    "at least one comparison",
    comparisons,
  );
  const tail = (1 - level) / comparisons / 2;
  const each = 1 - 2 * tail;
  const z = -normalQuantile(tail);
  const known = new Map<number, number>();
  const shares = totals.map(({ group, plots, setOut, standing, squares }): EffectiveShare => {
    const total = { group, plots, setOut, standing };
    if (setOut === 0) {
      const unknown = { share: null, low: null, high: null };
      return { ...total, ...unknown, effectivePlants: null, clusterSize: null, multiplier: null };
    }
    const clusterSize = squares / setOut;
    const multiplier = known.get(clusterSize) ?? clumpedQuantile(belief, clusterSize, tail);
    known.set(clusterSize, multiplier);
    const effectivePlants = setOut * (z / multiplier) ** 2;
    const share = standing / setOut;
    const { low, high } = wilsonInterval(
      Math.min(share * effectivePlants, effectivePlants),
      effectivePlants,
      each,
    );
    return { ...total, share, low, high, effectivePlants, clusterSize, multiplier };
  });
  return { level: each, shares };
}
