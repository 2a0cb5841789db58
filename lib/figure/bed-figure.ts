import { sayLengthMm } from "@/lib/words/length";
import type { Figure, Mark } from "./figure";
import { rect, text, textSizePx, textWidthPx } from "./marks";

export interface BedPlot {
  code: string;
  variety: string;
  block: number | null;
  xMm: number;
  yMm: number;
  widthMm: number;
  lengthMm: number;
  /** What stands in the plot's middle: `7 of 8`, `12 plants`; empty for nothing. */
  words: string;
  /** How dark the plot is drawn, 0 to 1 (share lost, say); null draws it plain. */
  shade: number | null;
  isCheck: boolean;
}

export interface BedFigureRequest {
  id: string;
  title: string;
  description: string;
  bed: { name: string; widthMm: number; lengthMm: number };
  plots: BedPlot[];
  /** Heading of the table's last column. */
  wordsHeading: string;
  widthPx: number;
}

const sidePx = 12;
const topPx = 30;

/**
 * A bed drawn to scale from its path-side left corner, with each plot's stake code, variety and figure. A bed longer
 * than wide lies along the page where there is room, and stands upright on a narrow drawing.
 */
export function bedFigure(request: BedFigureRequest): Figure {
  const { bed, plots, widthPx } = request;
  const lying = bed.lengthMm > bed.widthMm && widthPx >= 520;
  const acrossMm = lying ? bed.lengthMm : bed.widthMm;
  const downMm = lying ? bed.widthMm : bed.lengthMm;
  const scale = (widthPx - 2 * sidePx) / acrossMm;
  const pxPerMm = lying ? scale : Math.min(scale, 900 / downMm);
  const bedWidthPx = acrossMm * pxPerMm;
  const bedHeightPx = downMm * pxPerMm;
  const marks: Mark[] = [
    text(sidePx, 18, `${bed.name}, ${sayLengthMm(bed.widthMm)} × ${sayLengthMm(bed.lengthMm)}`, {
      sizePx: textSizePx.small,
      tone: "soft",
    }),
    rect(sidePx, topPx, bedWidthPx, bedHeightPx, {
      fill: null,
      stroke: { tone: "soft", weight: 1.5, dash: null },
    }),
  ];
  for (const plot of plots) {
    const left = sidePx + (lying ? plot.yMm : plot.xMm) * pxPerMm;
    const top = topPx + (lying ? plot.xMm : plot.yMm) * pxPerMm;
    const width = (lying ? plot.lengthMm : plot.widthMm) * pxPerMm;
    const height = (lying ? plot.widthMm : plot.lengthMm) * pxPerMm;
    marks.push(
      rect(left + 1, top + 1, Math.max(1, width - 2), Math.max(1, height - 2), {
        fill:
          plot.shade === null
            ? null
            : { tone: "soft", opacity: 0.06 + 0.44 * Math.min(1, Math.max(0, plot.shade)), hatch: "solid" },
        stroke: { tone: "ink", weight: plot.isCheck ? 2.5 : 1, dash: null },
      }),
    );
    marks.push(...plotWords(plot, left, top, width, height));
  }
  return {
    id: request.id,
    title: request.title,
    description: request.description,
    widthPx,
    heightPx: topPx + bedHeightPx + 12,
    marks,
    table: {
      caption: `${request.title}, plot by plot`,
      columns: [
        { heading: "plot", numeric: false },
        { heading: "variety", numeric: false },
        { heading: "block", numeric: true },
        { heading: request.wordsHeading, numeric: true },
      ],
      rows: plots.map((plot) => [
        plot.code,
        plot.variety,
        plot.block === null ? "–" : String(plot.block),
        plot.words === "" ? "–" : plot.words,
      ]),
    },
  };
}

/** As many of code, variety and figure as the plot has room for; the code and the figure go before the name. */
function plotWords(plot: BedPlot, left: number, top: number, width: number, height: number): Mark[] {
  const sizePx = textSizePx.small;
  const linePx = sizePx + 4;
  const fits = (words: string) => textWidthPx(words, sizePx) <= width - 6;
  const shorten = (words: string) => {
    const letters = Math.floor((width - 6) / (sizePx * 0.54)) - 1;
    return fits(words) ? words : letters >= 3 ? `${words.slice(0, letters)}.` : "";
  };
  const wanted = [
    { words: plot.code, bold: true, rank: 0 },
    { words: shorten(plot.variety), bold: false, rank: 2 },
    { words: fits(plot.words) ? plot.words : plot.words.replace(" of ", "/"), bold: false, rank: 1 },
  ].filter((entry) => entry.words !== "" && fits(entry.words));
  const room = Math.max(1, Math.floor((height - 4) / linePx));
  const kept = wanted.filter((entry) => wanted.filter((other) => other.rank < entry.rank).length < room);
  const firstBase = top + height / 2 - ((kept.length - 1) * linePx) / 2 + sizePx * 0.35;
  return kept.map((entry, position) =>
    text(left + width / 2, firstBase + position * linePx, entry.words, {
      anchor: "middle",
      sizePx,
      bold: entry.bold,
      halo: plot.shade !== null,
    }),
  );
}
