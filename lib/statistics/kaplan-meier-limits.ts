import type { KaplanMeier } from "./kaplan-meier";
import { normalQuantile } from "./normal";
import { insist } from "./requirement";

/** Limits at each time of a curve; null where the method has none. */
export interface CurveLimits {
  low: (number | null)[];
  high: (number | null)[];
}

/**
 * Limits for a Kaplan–Meier curve that take every plant as independent: for the working only.
 *
 * @param scale *plain*: share ± z × Greenwood's standard error, cut to [0, 1]; *log–log*: the same on log(−log share),
 * which needs no cutting
 * @param level confidence level, at each time by itself
 *
 * Edges: none lost so far, or all: Greenwood's variance is 0 and says nothing, so both limits are null (R draws a
 * zero-width plain interval there).
 * Source: kalbfleisch-prentice-2002, section 1.4.
 * Checked: tests/reference/standing-curve (R survfit, conf.type "plain" and "log-log").
 */
export function kaplanMeierLimits(
  curve: KaplanMeier,
  scale: "plain" | "log–log",
  level: number,
): CurveLimits {
  insist(level > 0 && level < 1, "kaplanMeierLimits", "0 < level < 1", level);
  const z = -normalQuantile((1 - level) / 2);
  const low: (number | null)[] = [];
  const high: (number | null)[] = [];
  for (let at = 0; at < curve.share.length; at += 1) {
    const share = curve.share[at];
    if (share === 1 || share === 0) {
      low.push(null);
      high.push(null);
      continue;
    }
    const half = z * Math.sqrt(curve.variance[at]);
    if (scale === "plain") {
      low.push(Math.max(0, share - half));
      high.push(Math.min(1, share + half));
    } else {
      const log = Math.log(share);
      const stretch = Math.exp(half / (share * -log));
      low.push(Math.exp(log * stretch));
      high.push(Math.exp(log / stretch));
    }
  }
  return { low, high };
}
