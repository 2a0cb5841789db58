import type { LossWindow } from "@/lib/statistics/turnbull";

/**
 * Turnbull's estimate as he first gave it: share each plant out over the stretches that its window covers, in proportion
 * to their masses, until nothing moves. Slow to converge, and plain to see. Only for windows with left below right.
 */
export function plainTurnbull(windows: readonly LossWindow[], rounds: number) {
  const lefts = windows.map((window) => window.left);
  const rights = windows.map((window) => window.right);
  const stretches = [...new Set(lefts)]
    .map((left) => [left, Math.min(...rights.filter((right) => right > left))])
    .filter(([left, right]) => !lefts.some((other) => other > left && other < right))
    .sort((a, b) => a[0] - b[0]);
  let mass = stretches.map(() => 1 / stretches.length);
  const plants = windows.reduce((sum, window) => sum + window.plants, 0);
  for (let round = 0; round < rounds; round += 1) {
    const next = stretches.map(() => 0);
    for (const { left, right, plants: count } of windows) {
      const own = stretches.map(([from, to], k) => (from >= left && to <= right ? mass[k] : 0));
      const total = own.reduce((sum, value) => sum + value, 0);
      for (let k = 0; k < own.length; k += 1) next[k] += (count * own[k]) / total / plants;
    }
    mass = next;
  }
  return { stretches, mass };
}
