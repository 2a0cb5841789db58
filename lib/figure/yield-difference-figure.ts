import type { Finding, YieldAnalysis } from "@/lib/analysis/finding";
import { sayDecimal, sayP, saySigned } from "@/lib/words/say-number";
import type { Figure } from "./figure";
import { intervalFigure } from "./interval-figure";
import { roundDomain } from "./scale";

/** How much more or less each variety yielded than the check; null without a check to compare to. */
export function yieldDifferenceFigure(
  finding: Finding<YieldAnalysis>,
  request: { widthPx: number },
): Figure | null {
  const { differences } = finding.value;
  if (differences.length === 0) return null;
  const level = Math.round(finding.level * 100);
  const reference = differences[0].reference;
  const values = differences.flatMap((difference) => [
    difference.estimate ?? 0,
    difference.low ?? 0,
    difference.high ?? 0,
  ]);
  const [from, to] = roundDomain(Math.min(0, ...values), Math.max(0, ...values), 6);
  const title = `Yield, difference from ${reference}`;
  const sayRatio = (ratio: number | null) => (ratio === null ? "–" : sayDecimal(ratio, 2));
  return intervalFigure({
    id: "yield-differences",
    title,
    description: `Differences in ${finding.scale} with ${level} % limits made for all comparisons with the check at once. Limits on both sides of the line at 0 show no clear difference.`,
    widthPx: request.widthPx,
    rows: differences.map((difference) => ({
      label: difference.variety,
      estimate: difference.estimate,
      low: difference.low,
      high: difference.high,
      note: difference.estimate === null ? "not known" : saySigned(difference.estimate, difference.se),
      isReference: false,
    })),
    axis: { from, to, title: finding.scale, say: (value) => saySigned(value, value) },
    band: null,
    lines: [{ at: 0, label: `as ${reference}`, tone: "ink" }],
    table: {
      caption: `${title}, in ${finding.scale}, with ${level} % limits, and as a multiple of the check`,
      columns: [
        { heading: "variety", numeric: false },
        { heading: "difference", numeric: true },
        { heading: "from", numeric: true },
        { heading: "to", numeric: true },
        { heading: "p", numeric: true },
        { heading: "times the check", numeric: true },
        { heading: "from", numeric: true },
        { heading: "to", numeric: true },
      ],
      rows: differences.map((difference) => [
        difference.variety,
        ...[difference.estimate, difference.low, difference.high].map((value) =>
          value === null ? "–" : saySigned(value, difference.se),
        ),
        difference.p === null ? "–" : sayP(difference.p),
        sayRatio(difference.ratio),
        sayRatio(difference.ratioLow),
        sayRatio(difference.ratioHigh),
      ]),
    },
  });
}
