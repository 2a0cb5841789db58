import type { Finding, Survival } from "@/lib/analysis/finding";
import { sayPoints } from "@/lib/words/say-number";
import type { Figure } from "./figure";
import { intervalFigure } from "./interval-figure";

/** How far each variety stands above or below the check, in plants in a hundred; null without a check to compare to. */
export function survivalDifferenceFigure(
  finding: Finding<Survival>,
  request: { widthPx: number },
): Figure | null {
  const { differences } = finding.value;
  if (differences.length === 0) return null;
  const level = Math.round(finding.level * 100);
  const references = new Set(differences.map((difference) => difference.reference));
  const oneReference = references.size === 1 ? differences[0].reference : null;
  const title = oneReference ? `Difference from ${oneReference}` : "Difference of each pair";
  const sayPair = (difference: (typeof differences)[number]) =>
    oneReference ? difference.variety : `${difference.variety} − ${difference.reference}`;
  return intervalFigure({
    id: "survival-differences",
    title,
    description: `Differences in plants standing in a hundred with ${level} % limits. Limits that lie on both sides of the line at 0 show no clear difference.`,
    widthPx: request.widthPx,
    rows: differences.map((difference) => ({
      label: sayPair(difference),
      estimate: difference.estimate,
      low: difference.low,
      high: difference.high,
      note: difference.estimate === null ? "not known" : `${sayPoints(difference.estimate)} in a hundred`,
      isReference: false,
    })),
    axis: { from: -1, to: 1, title: "plants in a hundred more or fewer", say: sayPoints },
    band: null,
    lines: [{ at: 0, label: oneReference ? `as ${oneReference}` : "alike", tone: "ink" }],
    table: {
      caption: `${title}, in plants in a hundred, with ${level} % limits`,
      columns: [
        { heading: "variety", numeric: false },
        { heading: "against", numeric: false },
        { heading: "difference", numeric: true },
        { heading: "from", numeric: true },
        { heading: "to", numeric: true },
      ],
      rows: differences.map((difference) => [
        difference.variety,
        difference.reference,
        ...[difference.estimate, difference.low, difference.high].map((value) =>
          value === null ? "–" : sayPoints(value),
        ),
      ]),
    },
  });
}
