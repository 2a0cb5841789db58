const firstWaitMs = 4_000;
const longestWaitMs = 300_000;

/**
 * How long to wait before sending again, after so many rounds in a row that did not get through: doubling from four
 * seconds to five minutes, of which the second half is by chance, so that phones which lost the same signal do not all
 * come back at once. `chance` is from 0 up to 1.
 */
export function retryWaitMs(failedRounds: number, chance: number): number {
  const wholeMs = Math.min(longestWaitMs, firstWaitMs * 2 ** Math.max(0, failedRounds - 1));
  return Math.round(wholeMs / 2 + (wholeMs / 2) * chance);
}
