/**
 * The cumulative incidence and its delta-method variance term by term as Marubini and Valsecchi print them: slow, and
 * with no sum carried forward.
 */
export function plainIncidence(
  times: readonly number[],
  causes: readonly number[],
  cause: number,
): { time: number; share: number; variance: number }[] {
  const days = [...new Set(times)].sort((a, b) => a - b);
  const n = days.map((day) => times.filter((time) => time >= day).length);
  const at = (day: number, wanted: (code: number) => boolean) =>
    times.filter((time, plant) => time === day && wanted(causes[plant])).length;
  const all = days.map((day) => at(day, (code) => code > 0));
  const own = days.map((day) => at(day, (code) => code === cause));
  const before = days.map((_, i) => days.slice(0, i).reduce((s, _day, k) => s * (1 - all[k] / n[k]), 1));
  const share = days.map((_, j) =>
    days.slice(0, j + 1).reduce((sum, _day, i) => sum + (before[i] * own[i]) / n[i], 0),
  );
  return days.map((time, j) => {
    let variance = 0;
    for (let i = 0; i <= j; i += 1) {
      const gap = share[j] - share[i];
      if (n[i] > all[i]) variance += (gap ** 2 * all[i]) / (n[i] * (n[i] - all[i]));
      variance += (before[i] ** 2 * (n[i] - own[i]) * own[i]) / n[i] ** 3;
      variance -= (2 * gap * before[i] * own[i]) / n[i] ** 2;
    }
    return { time, share: share[j], variance };
  });
}
