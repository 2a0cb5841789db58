import type { Finding, Survival } from "@/lib/analysis/finding";
import { sayDay } from "@/lib/words/day";
import { sayPercent } from "@/lib/words/say-number";
import type { Figure } from "./figure";
import { intervalFigure } from "./interval-figure";

const stepTitles: Record<Survival["step"], string> = {
  took: "Took after planting",
  wintered: "Wintered, of those that took",
  both: "Stood",
};

interface SurvivalFigureRequest {
  check: string | null;
  /** The rule's survival floor, 0 to 1, drawn across; null when survival does not decide. */
  floor: number | null;
  widthPx: number;
}

/** Each variety's share standing with its limits, on one scale from none to all, the check's limits behind. */
export function survivalFigure(finding: Finding<Survival>, request: SurvivalFigureRequest): Figure {
  const { varieties, step } = finding.value;
  const check = varieties.find((variety) => variety.variety === request.check);
  const day = finding.asOf ? ` on ${sayDay(finding.asOf, true)}` : "";
  const level = Math.round(finding.level * 100);
  const title = `${stepTitles[step]}${day}`;
  return intervalFigure({
    id: `survival-${step}`,
    title,
    description:
      `Share of plants with ${level} % limits for ${varieties.length} varieties` +
      `${check ? `; the limits of the check ${check.variety} lie behind as a band` : ""}. The table beneath holds the same figures.`,
    widthPx: request.widthPx,
    rows: varieties.map((variety) => ({
      label: variety.variety,
      estimate: variety.estimate,
      low: variety.low,
      high: variety.high,
      note: `${variety.standing} of ${variety.plants - variety.censored}, ${variety.plots} ${variety.plots === 1 ? "plot" : "plots"}`,
      isReference: variety.variety === request.check,
    })),
    axis: { from: 0, to: 1, title: "share of plants", say: sayPercent },
    band:
      check?.low != null && check.high != null
        ? { low: check.low, high: check.high, label: `${check.variety}, the check` }
        : null,
    lines:
      request.floor === null
        ? []
        : [{ at: request.floor, label: `the rule's floor, ${sayPercent(request.floor)}`, tone: "warning" }],
    table: {
      caption: `${title}: plants, plots and ${level} % limits`,
      columns: [
        { heading: "variety", numeric: false },
        { heading: "plots", numeric: true },
        { heading: "plants", numeric: true },
        { heading: "taken out", numeric: true },
        { heading: "standing", numeric: true },
        { heading: "share", numeric: true },
        { heading: "from", numeric: true },
        { heading: "to", numeric: true },
        { heading: "tells as much as", numeric: true },
      ],
      rows: varieties.map((variety) => [
        variety.variety,
        String(variety.plots),
        String(variety.plants),
        String(variety.censored),
        String(variety.standing),
        variety.estimate === null ? "–" : sayPercent(variety.estimate),
        variety.low === null ? "–" : sayPercent(variety.low),
        variety.high === null ? "–" : sayPercent(variety.high),
        variety.effectivePlants === null ? "–" : `${Math.round(variety.effectivePlants)} plants`,
      ]),
    },
  });
}
