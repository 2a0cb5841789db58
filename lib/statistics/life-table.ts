import { kaplanMeier } from "./kaplan-meier";
import { countUpTo, type Lifetimes } from "./lifetimes";
import { insist } from "./requirement";

export interface LifeTableRow {
  /** The inspection before (0 for the first) and this one. */
  from: number;
  to: number;
  /** Plants standing and watched at `from`. */
  entering: number;
  /** Found lost at `to`. */
  lost: number;
  /** Last seen standing at `to`. */
  censored: number;
  /** Of those entering, the share standing at `to`; null when none entered. */
  shareOfEntering: number | null;
  /** Share of all plants standing at `to`, with Greenwood's standard error; null when none entered and some stood. */
  share: number | null;
  se: number | null;
}

/**
 * The life table of plants looked at on common days: Kaplan–Meier stepped at the inspections, with a row for each,
 * whether or not anything was lost.
 *
 * @param lifetimes losses count at the first inspection at or after them; a plant last seen standing counts as seen at
 * the last inspection at or before that
 * @param inspections ascending, > 0
 *
 * Edges: once nobody is watched and not all are lost, shares are null. A plant lost after the last inspection counts as
 * standing at it; one never seen at an inspection counts for nothing.
 * Source: cutler-ederer-1958, without their half-interval for plants withdrawn, who are here seen at inspections.
 * Checked: tests/unit/statistics/life-table.test.ts; tests/reference/discrete-time (R table of periods).
 */
export function lifeTable(lifetimes: Lifetimes, inspections: readonly number[]): LifeTableRow[] {
  insist(
    inspections.length > 0 && inspections.every((day, at) => day > (at === 0 ? 0 : inspections[at - 1])),
    "lifeTable",
    "inspections > 0, each later than the last",
    inspections.join(", "),
  );
  const times: number[] = [];
  const causes: number[] = [];
  for (let plant = 0; plant < lifetimes.times.length; plant += 1) {
    const seen = countUpTo(inspections, lifetimes.times[plant]);
    const exact = seen > 0 && inspections[seen - 1] === lifetimes.times[plant];
    const found = exact ? seen - 1 : seen;
    const cause = lifetimes.causes[plant];
    if (cause > 0 && found < inspections.length) {
      times.push(inspections[found]);
      causes.push(cause);
    } else if (seen > 0) {
      times.push(inspections[seen - 1]);
      causes.push(0);
    }
  }
  const curve = kaplanMeier({ times, causes });
  return inspections.map((to, row) => {
    const at = countUpTo(curve.times, to) - 1;
    const here = at >= 0 && curve.times[at] === to;
    const entering = curve.atRisk[here ? at : at + 1] ?? 0;
    const lost = here ? curve.lost[at] : 0;
    const share = at < 0 ? 1 : curve.share[at];
    const unknown = entering === 0 && share > 0;
    return {
      from: row === 0 ? 0 : inspections[row - 1],
      to,
      entering,
      lost,
      censored: here ? curve.censored[at] : 0,
      shareOfEntering: entering === 0 ? null : (entering - lost) / entering,
      share: unknown ? null : share,
      se: unknown ? null : at < 0 ? 0 : Math.sqrt(curve.variance[at]),
    };
  });
}
