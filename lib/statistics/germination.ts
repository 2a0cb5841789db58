import type { Interval } from "./interval";
import { insist } from "./requirement";
import { wilsonInterval } from "./wilson-interval";

/** Seeds newly come up on one day of looking. */
export interface Emergence {
  /** Days since sowing, > 0. */
  day: number;
  newly: number;
}

export interface Germination {
  germinated: number;
  share: number;
  limits: Interval;
  /** Day by which half of those that came up were up, interpolated; null where none came up. */
  half: number | null;
  /** The same for the (N + 1)/2-th seedling; null where fewer came up than that. */
  halfCoolbear: number | null;
  /** Mean day of coming up, of those that did. */
  meanTime: number | null;
  /** Standard error of the mean time; null with fewer than two. */
  meanTimeSe: number | null;
}

/**
 * How many of the seeds sown came up, and when.
 *
 * Limits take seeds as independent, which seeds of one tray nearly are; several trays are compared as plots are.
 *
 * @param emergence new seedlings by day, days ascending
 * @param sown seeds, > 0
 * @param level confidence level of the share
 *
 * Conventions: half-times lie on straight lines between the days of looking, from 0 on day 0: half of those germinated by
 * the N/2 rule, or the (N + 1)/2-th as first published. Mean time Σ newly × day / Σ newly; each seedling counts on the
 * day it was seen, which is later than it came.
 * Source: coolbear-1984 ((N + 1)/2), farooq-2005 (N/2), ellis-roberts-1980 (mean time); wilson-1927.
 * Checked: tests/reference/germination (R, by the formulas).
 * Example: 4, 17, 10, 7, 1, 0, 1 on days 4 to 10 of 50 → 80 %, half by day 4.94, mean day 5.7.
 */
export function germination(emergence: readonly Emergence[], sown: number, level: number): Germination {
  insist(sown > 0 && Number.isFinite(sown), "germination", "sown > 0", sown);
  let germinated = 0;
  for (const [at, { day, newly }] of emergence.entries()) {
    insist(
      day > (emergence[at - 1]?.day ?? 0) && Number.isFinite(day),
      "germination",
      "days > 0, ascending",
      day,
    );
    insist(newly >= 0 && Number.isFinite(newly), "germination", "newly ≥ 0", newly);
    germinated += newly;
  }
  insist(germinated <= sown, "germination", "0 ≤ germinated ≤ sown", `${germinated} of ${sown}`);
  const limits = wilsonInterval(germinated, sown, level);
  const share = germinated / sown;
  if (germinated === 0)
    return { germinated, share, limits, half: null, halfCoolbear: null, meanTime: null, meanTimeSe: null };
  const meanTime = emergence.reduce((sum, { day, newly }) => sum + newly * day, 0) / germinated;
  const spread = emergence.reduce((sum, { day, newly }) => sum + newly * (day - meanTime) ** 2, 0);
  return {
    germinated,
    share,
    limits,
    half: dayOf(emergence, germinated / 2),
    halfCoolbear: dayOf(emergence, (germinated + 1) / 2),
    meanTime,
    meanTimeSe: germinated < 2 ? null : Math.sqrt(spread / (germinated - 1) / germinated),
  };
}

/** When the running count reached a number, on straight lines between the days of looking. */
function dayOf(emergence: readonly Emergence[], count: number): number | null {
  let up = 0;
  let before = 0;
  for (const { day, newly } of emergence) {
    if (newly > 0 && up + newly >= count) return before + ((count - up) * (day - before)) / newly;
    up += newly;
    before = day;
  }
  return null;
}
