import type { Finding, YieldAnalysis } from "@/lib/analysis/finding";
import { sayDecimal, sayRounded } from "@/lib/words/say-number";
import type { Figure } from "./figure";
import { intervalFigure } from "./interval-figure";
import { roundDomain } from "./scale";

/**
 * Each variety's mean yield with its limits, the check's limits behind. The scale starts at nought: a limit below it,
 * which no bed can yield, runs off the left edge and is told by the table.
 */
export function yieldFigure(
  finding: Finding<YieldAnalysis>,
  request: { check: string | null; widthPx: number },
): Figure {
  const { varieties, differences } = finding.value;
  const check = varieties.find((variety) => variety.variety === request.check);
  const level = Math.round(finding.level * 100);
  const ratioOf = (name: string) =>
    differences.find((difference) => difference.variety === name)?.ratio ?? null;
  const means = varieties.map((variety) => variety.mean ?? 0);
  const [from, to] = roundDomain(
    Math.min(0, ...means),
    Math.max(...means, ...varieties.map((variety) => variety.high ?? 0)),
    6,
  );
  const widest = Math.max(...varieties.map((variety) => variety.se ?? 0));
  const title = `Yield in ${finding.scale}`;
  return intervalFigure({
    id: `yield-${finding.value.per}`,
    title,
    description:
      `Mean yield with ${level} % limits for ${varieties.length} varieties` +
      `${check ? `; the limits of the check ${check.variety} lie behind as a band` : ""}. The table beneath holds the same figures.`,
    widthPx: request.widthPx,
    rows: varieties.map((variety) => {
      const ratio = ratioOf(variety.variety);
      return {
        label: variety.variety,
        estimate: variety.mean,
        low: variety.low,
        high: variety.high,
        note:
          variety.mean === null
            ? "not known"
            : `${sayRounded(variety.mean, variety.se)}${ratio === null ? "" : `, ${sayDecimal(ratio, 2)} × the check`}`,
        isReference: variety.variety === request.check,
      };
    }),
    axis: { from, to, title: finding.scale, say: (value) => String(value).replace("-", "−") },
    band:
      check?.low != null && check.high != null
        ? { low: check.low, high: check.high, label: `${check.variety}, the check` }
        : null,
    lines: [],
    table: {
      caption: `${title}: means and ${level} % limits`,
      columns: [
        { heading: "variety", numeric: false },
        { heading: "plots", numeric: true },
        { heading: "mean", numeric: true },
        { heading: "standard error", numeric: true },
        { heading: "from", numeric: true },
        { heading: "to", numeric: true },
      ],
      rows: varieties.map((variety) => [
        variety.variety,
        String(variety.plots),
        ...[variety.mean, variety.se, variety.low, variety.high].map((value) =>
          value === null ? "–" : sayRounded(value, variety.se ?? widest),
        ),
      ]),
    },
  });
}
