import { sayLengthMm } from "@/lib/words/length";
import type { Figure, Hatch, Mark, RectMark } from "./figure";
import { rect, symbol, text, textSizePx } from "./marks";

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
  /** What the plot's main plot was dealt, in words; null where nothing was. */
  under?: string | null;
}

/** A crop between the rows of every plot, or of those whose main plots were dealt it. */
export interface BedCompanion {
  name: string;
  /** What the main plots that it stands in are called; null where it stands in every plot. */
  under: string | null;
  betweenPlantsMm: number;
  /** For the key: `every 10 cm, sown Sat 1 Aug`. */
  words: string;
}

export interface BedFigureRequest {
  id: string;
  title: string;
  description: string;
  bed: {
    name: string;
    widthMm: number;
    lengthMm: number;
    /** Stretches from side to side that something fixed takes up. */
    takenUp?: readonly { fromMm: number; toMm: number }[];
  };
  /** What main plots were dealt, in the plan's order: each has its hatch. */
  levels?: readonly string[];
  /** Rows of plants in a plot, between which the companions stand. */
  plantRows?: number;
  companions?: readonly BedCompanion[];
  plots: BedPlot[];
  /** Heading of the table's last column. */
  wordsHeading: string;
  /** Where every plot's words are alike, the drawing leaves them out. */
  wordsInTableOnly?: boolean;
  widthPx: number;
}

const sidePx = 12;
const topPx = 30;
const keyLinePx = 22;
/** The first level is left plain; no trial has more than four. */
const levelHatches: readonly (Hatch | null)[] = [null, "right", "dots", "left"];
const companionShapes = ["triangle", "diamond", "cross"] as const;

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
  const { levels = [], companions = [] } = request;
  const hasWords = plots.some((plot) => plot.under);
  for (const { fromMm, toMm } of bed.takenUp ?? []) {
    const from = fromMm * pxPerMm;
    const long = (Math.min(toMm, bed.lengthMm) - fromMm) * pxPerMm;
    const [x, y] = lying ? [sidePx + from, topPx] : [sidePx, topPx + from];
    const [width, height] = lying ? [long, bedHeightPx] : [bedWidthPx, long];
    marks.push(
      rect(x, y, width, height, {
        fill: { tone: "soft", opacity: 0.6, hatch: "crossed" },
        stroke: { tone: "soft", weight: 1, dash: null },
      }),
    );
  }
  for (const plot of plots) {
    const left = sidePx + (lying ? plot.yMm : plot.xMm) * pxPerMm;
    const top = topPx + (lying ? plot.xMm : plot.yMm) * pxPerMm;
    const width = (lying ? plot.lengthMm : plot.widthMm) * pxPerMm;
    const height = (lying ? plot.widthMm : plot.lengthMm) * pxPerMm;
    marks.push(
      rect(left + 1, top + 1, Math.max(1, width - 2), Math.max(1, height - 2), {
        fill: plot.shade === null ? levelFill(levels, plot.under ?? null) : shadeFill(plot.shade),
        stroke: { tone: "ink", weight: plot.isCheck ? 2.5 : 1, dash: null },
      }),
    );
    companions.forEach((companion, index) => {
      if (companion.under !== null && companion.under !== plot.under) return;
      const shape = companionShapes[index % companionShapes.length];
      for (const place of companionPlaces(plot, companion, request.plantRows ?? 1)) {
        const [x, y] = lying ? [place.yMm, place.xMm] : [place.xMm, place.yMm];
        marks.push(symbol(sidePx + x * pxPerMm, topPx + y * pxPerMm, { shape, tone: "soft", sizePx: 5 }));
      }
    });
    const drawn = request.wordsInTableOnly ? { ...plot, words: "" } : plot;
    marks.push(...plotWords(drawn, left, top, width, height));
  }
  const bedBottomPx = topPx + bedHeightPx;
  marks.push(...keyOf(request, bedBottomPx));
  const keyLines = levels.length + companions.length + ((bed.takenUp ?? []).length > 0 ? 1 : 0);
  return {
    id: request.id,
    title: request.title,
    description: request.description,
    widthPx,
    heightPx: bedBottomPx + 12 + keyLines * keyLinePx,
    marks,
    table: {
      caption: `${request.title}, plot by plot`,
      columns: [
        { heading: "plot", numeric: false },
        { heading: "variety", numeric: false },
        ...(hasWords ? [{ heading: "grown", numeric: false }] : []),
        { heading: "block", numeric: true },
        { heading: request.wordsHeading, numeric: true },
      ],
      rows: plots.map((plot) => [
        plot.code,
        plot.variety,
        ...(hasWords ? [plot.under ?? "–"] : []),
        plot.block === null ? "–" : String(plot.block),
        plot.words === "" ? "–" : plot.words,
      ]),
    },
  };
}

function shadeFill(shade: number): RectMark["fill"] {
  return { tone: "soft", opacity: 0.06 + 0.44 * Math.min(1, Math.max(0, shade)), hatch: "solid" };
}

function levelFill(levels: readonly string[], under: string | null): RectMark["fill"] {
  const hatch = levelHatches[levels.indexOf(under ?? "")] ?? null;
  return hatch && { tone: "soft", opacity: 0.45, hatch };
}

/** Halfway between rows and along each row's far side, at the companion's own spacing. */
function companionPlaces(plot: BedPlot, { betweenPlantsMm }: BedCompanion, plantRows: number) {
  const count = Math.max(1, Math.floor(plot.lengthMm / betweenPlantsMm));
  const rowMm = plot.widthMm / plantRows;
  return Array.from({ length: plantRows }, (_, row) =>
    Array.from({ length: count }, (__, place) => ({
      xMm: plot.xMm + (row + 1) * rowMm - (row + 1 === plantRows ? rowMm * 0.08 : 0),
      yMm: plot.yMm + ((place + 0.5) * plot.lengthMm) / count,
    })),
  ).flat();
}

/** What hatches and small marks mean, line by line beneath the bed. */
function keyOf({ levels = [], companions = [], bed }: BedFigureRequest, fromPx: number): Mark[] {
  const marks: Mark[] = [];
  let line = 0;
  const add = (words: string, mark: (x: number, y: number) => Mark) => {
    const base = fromPx + 8 + line * keyLinePx + keyLinePx / 2 + 4;
    marks.push(mark(sidePx, base - 11), text(sidePx + 26, base, words, { sizePx: textSizePx.small }));
    line += 1;
  };
  const swatch = (fill: RectMark["fill"]) => (x: number, y: number) =>
    rect(x, y, 18, 14, { fill, stroke: { tone: "ink", weight: 1, dash: null } });
  for (const level of levels) add(level, swatch(levelFill(levels, level)));
  companions.forEach(({ name, words }, index) => {
    const shape = companionShapes[index % companionShapes.length];
    add(`${name}, ${words}`, (x, y) => symbol(x + 9, y + 7, { shape, tone: "soft", sizePx: 8 }));
  });
  if ((bed.takenUp ?? []).length > 0)
    add("in the way", swatch({ tone: "soft", opacity: 0.6, hatch: "crossed" }));
  return marks;
}

/** Room kept clear on either side of a plot's words. */
const clearPx = 4;

/** How wide words come out, letter by letter: a plot is too narrow for the average letter to be near enough. */
function labelWidthPx(words: string, sizePx: number): number {
  const em = [...words].reduce((sum, letter) => {
    if (/[iljtfrI1 .,:;’'/|()-]/.test(letter)) return sum + 0.36;
    if (/[mwMW]/.test(letter)) return sum + 0.86;
    return sum + (/[A-Z0-9]/.test(letter) ? 0.66 : 0.57);
  }, 0);
  return em * sizePx;
}

/** Words on two lines, broken where both fit; null where they do not. */
function onTwoLines(words: string, fits: (words: string) => boolean): string[] | null {
  const parts = words.split(" ");
  for (let at = 1; at < parts.length; at += 1) {
    const lines = [parts.slice(0, at).join(" "), parts.slice(at).join(" ")];
    if (lines.every(fits)) return lines;
  }
  return null;
}

/** The beginning of words that do not fit, with a full stop; nothing where not even three letters do. */
function shortened(words: string, fits: (words: string) => boolean): string[] {
  for (let letters = words.length - 1; letters >= 3; letters -= 1) {
    const short = `${words.slice(0, letters).trimEnd()}.`;
    if (fits(short)) return [short];
  }
  return [];
}

/** As many of code, variety and figure as the plot has room for; the code and the figure go before the name. */
function plotWords(plot: BedPlot, left: number, top: number, width: number, height: number): Mark[] {
  const sizePx = textSizePx.small;
  const linePx = sizePx + 4;
  const fits = (words: string) => labelWidthPx(words, sizePx) <= width - 2 * clearPx;
  const room = Math.max(1, Math.floor((height - clearPx) / linePx));
  const figure = fits(plot.words) ? plot.words : plot.words.replace(" of ", "/");
  // A plot is found by its code: that may come as near the edge as it must.
  const hasCode = labelWidthPx(plot.code, sizePx) <= width - 2;
  const others = [
    ...(hasCode ? [plot.code] : []),
    ...(figure !== "" && fits(figure) && (room > 1 || !hasCode) ? [figure] : []),
  ];
  const forName = room - others.length;
  const whole = fits(plot.variety) ? [plot.variety] : (onTwoLines(plot.variety, fits) ?? []);
  const name = whole.length > 0 && whole.length <= forName ? whole : shortened(plot.variety, fits);
  const lines = [
    ...others.slice(0, hasCode ? 1 : 0),
    ...name.slice(0, forName),
    ...others.slice(hasCode ? 1 : 0),
  ];
  const firstBase = top + height / 2 - ((lines.length - 1) * linePx) / 2 + sizePx * 0.35;
  return lines.map((words, position) =>
    text(left + width / 2, firstBase + position * linePx, words, {
      anchor: "middle",
      sizePx,
      bold: words === plot.code,
      halo: true,
    }),
  );
}
