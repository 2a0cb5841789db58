import type { Finding, Survival } from "@/lib/analysis/finding";
import { sayPercent } from "@/lib/words/say-number";
import { sayLevel } from "@/lib/words/say-under";
import type { Figure } from "./figure";
import { intervalFigure } from "./interval-figure";

/**
 * Every variety under every cover (or from every sowing) on one scale, or under one of them; null where main plots were
 * dealt nothing.
 */
export function mainFigure(
  finding: Finding<Survival>,
  request: { under?: string | null; widthPx: number },
): Figure | null {
  const { main } = finding.value;
  if (!main) return null;
  const only = main.cells.filter((cell) => cell.treatment === request.under);
  const cells = only.length > 0 ? only : main.cells;
  const level = Math.round(finding.level * 100);
  const heading = main.factor;
  const title = `Stood, by ${heading} and variety`;
  const say = (value: number | null) => (value === null ? "–" : sayPercent(value));
  return intervalFigure({
    id: "survival-main",
    title,
    description: `Share of plants standing with ${level} % limits for each variety under each ${heading}. The table beneath holds the same figures.`,
    widthPx: request.widthPx,
    rows: cells.map((cell) => ({
      label: `${sayLevel(cell.treatment)}: ${cell.variety}`,
      estimate: cell.estimate,
      low: cell.low,
      high: cell.high,
      note: `${cell.standing} of ${cell.plants - cell.censored}`,
      isReference: false,
    })),
    axis: { from: 0, to: 1, title: "share of plants", say: sayPercent },
    band: null,
    lines: [],
    table: {
      caption: `${title}, with ${level} % limits`,
      columns: [
        { heading, numeric: false },
        { heading: "variety", numeric: false },
        { heading: "plots", numeric: true },
        { heading: "plants", numeric: true },
        { heading: "standing", numeric: true },
        { heading: "share", numeric: true },
        { heading: "from", numeric: true },
        { heading: "to", numeric: true },
      ],
      rows: cells.map((cell) => [
        sayLevel(cell.treatment),
        cell.variety,
        String(cell.plots),
        String(cell.plants),
        String(cell.standing),
        say(cell.estimate),
        say(cell.low),
        say(cell.high),
      ]),
    },
  });
}
