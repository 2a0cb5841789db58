import { insist } from "./requirement";

/** A score of one plot on one day. */
export interface DatedScore {
  /** Days from any common start. */
  day: number;
  score: number;
}

/**
 * The area under a plot's progress curve of scores (score × days): one number that sums up when damage came and how far
 * it went, to be compared between varieties like a yield.
 *
 * @param scores of one plot, days ascending; all plots compared must share first and last day
 * @param shape *trapezoid* joins the scores by straight lines; *stairs* lets each stand for its share of the time, so
 * that the first and last weigh as much as the others
 * @returns null with fewer than two scores
 *
 * Conventions: stairs = trapezoid + mean of first and last score × days/(scores − 1).
 * Source: shaner-finney-1977 (trapezoid); simko-piepho-2012 (stairs).
 * Checked: tests/unit/statistics/scores.test.ts, by hand and against the printed formula.
 * Example: 0, 20, 60 on days 0, 7, 14 → 350; as stairs 560.
 */
export function progressCurveArea(
  scores: readonly DatedScore[],
  shape: "trapezoid" | "stairs",
): number | null {
  let area = 0;
  for (const [at, { day, score }] of scores.entries()) {
    insist(
      Number.isFinite(day) && Number.isFinite(score),
      "progressCurveArea",
      "finite days and scores",
      score,
    );
    if (at === 0) continue;
    const before = scores[at - 1];
    insist(day > before.day, "progressCurveArea", "days ascending", `${before.day}, ${day}`);
    area += ((score + before.score) / 2) * (day - before.day);
  }
  if (scores.length < 2) return null;
  const first = scores[0];
  const last = scores[scores.length - 1];
  if (shape === "trapezoid") return area;
  return area + (((first.score + last.score) / 2) * (last.day - first.day)) / (scores.length - 1);
}
