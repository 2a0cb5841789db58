import type { Redealt } from "@/lib/analysis/finding";
import { sayDecimal } from "@/lib/words/say-number";
import type { Figure, Mark } from "./figure";
import { line, rect, text, textSizePx } from "./marks";
import { linearScale, roundTicks } from "./scale";

const plotHeightPx = 150;
const labelStepPx = 18;

/**
 * How clear the clearest comparison was when the layout was dealt again and again, as bars, and how clear each comparison
 * was in the deal that was made, as lines. What lies right of nearly all bars is hardly the luck of the draw.
 */
export function redealtFigure(redealt: Redealt, request: { widthPx: number }): Figure | null {
  const { bins, seen, deals, isAll } = redealt;
  if (bins.length === 0 || seen.length === 0) return null;
  const { widthPx } = request;
  const [left, right] = [8, widthPx - 16];
  const top = 12 + seen.length * labelStepPx;
  const bottom = top + plotHeightPx;
  const x = linearScale(0, bins[bins.length - 1].to, left, right);
  const most = Math.max(...bins.map((bin) => bin.deals));
  const y = linearScale(0, most, bottom, top);
  const marks: Mark[] = bins
    .filter((bin) => bin.deals > 0)
    .map((bin) =>
      rect(x(bin.from), y(bin.deals), x(bin.to) - x(bin.from), bottom - y(bin.deals), {
        fill: { tone: "sky", opacity: 0.6, hatch: "solid" },
        stroke: { tone: "soft", weight: 0.5, dash: null },
      }),
    );
  marks.push(line([left, bottom], [right, bottom], { tone: "ink" }));
  for (const tick of roundTicks(0, bins[bins.length - 1].to, 5))
    marks.push(
      line([x(tick), bottom], [x(tick), bottom + 5], { tone: "soft" }),
      text(x(tick), bottom + 19, String(tick), { anchor: "middle", sizePx: textSizePx.small, tone: "soft" }),
    );
  marks.push(
    text(left, bottom + 38, "how clear: difference over its scatter", {
      sizePx: textSizePx.small,
      tone: "soft",
    }),
  );
  const sorted = [...seen].sort((a, b) => b.statistic - a.statistic);
  sorted.forEach((one, place) => {
    const labelY = 12 + place * labelStepPx;
    const onLeft = x(one.statistic) > (left + right) / 2;
    marks.push(
      line([x(one.statistic), labelY + 3], [x(one.statistic), bottom], {
        tone: "ink",
        weight: 1.6,
        dash: [5, 3],
      }),
      text(x(one.statistic) + (onLeft ? -5 : 5), labelY, `${one.variety} and ${one.reference}`, {
        anchor: onLeft ? "end" : "start",
        sizePx: textSizePx.small,
        halo: true,
      }),
    );
  });
  const drawn = bins.reduce((sum, bin) => sum + bin.deals, 0);
  return {
    id: "redealt",
    title: isAll
      ? `The clearest comparison in all ${deals} deals of this layout`
      : `The clearest comparison in ${drawn} further deals of this layout`,
    description:
      "Bars: how often dealing the varieties to the plots again gave so clear a comparison. Dashed lines: the comparisons as the layout was dealt. The table beneath says how many deals reach each.",
    widthPx,
    heightPx: bottom + 46,
    marks,
    table: {
      caption: "How clear each comparison was, and in how many deals the clearest was clearer still",
      columns: [
        { heading: "comparison", numeric: false },
        { heading: "how clear", numeric: true },
        { heading: "deals clearer still", numeric: true },
      ],
      rows: sorted.map((one) => [
        `${one.variety} and ${one.reference}`,
        sayDecimal(one.statistic, 2),
        String(bins.filter((bin) => bin.from >= one.statistic).reduce((sum, bin) => sum + bin.deals, 0)),
      ]),
    },
  };
}
