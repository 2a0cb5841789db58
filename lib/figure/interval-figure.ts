import type { Figure, FigureTable, Mark, Shape, Tone } from "./figure";
import { line, rect, symbol, text, textSizePx, textWidthPx } from "./marks";
import { linearScale, roundTicks } from "./scale";

export interface IntervalRow {
  label: string;
  /** Null where nothing can be estimated; the note says why. */
  estimate: number | null;
  low: number | null;
  high: number | null;
  /** What stands at the end of the row: counts, or why there is no figure. */
  note: string;
  isReference: boolean;
}

export interface IntervalFigureRequest {
  id: string;
  title: string;
  description: string;
  widthPx: number;
  rows: IntervalRow[];
  axis: { from: number; to: number; title: string; say: (value: number) => string };
  /** The check's own limits, drawn behind every row; null without a check. */
  band: { low: number; high: number; label: string } | null;
  /** Lines across all rows: the rule's floor, or zero. */
  lines: { at: number; label: string; tone: Tone }[];
  table: FigureTable;
}

const narrowBelowPx = 520;
const topPx = 34;

function cut(words: string, widthPx: number, sizePx: number): string {
  if (textWidthPx(words, sizePx) <= widthPx) return words;
  const letters = Math.max(1, Math.floor(widthPx / (sizePx * 0.54)) - 1);
  return `${words.slice(0, letters).trimEnd()}…`;
}

/** The mark of a row: the check is a diamond, the others are circles, so that it is found without colour. */
function rowShape(row: IntervalRow): { shape: Shape; tone: Tone } {
  return row.isReference ? { shape: "diamond", tone: "ink" } : { shape: "circle", tone: "blue" };
}

/**
 * Estimates with their limits on one common scale, one row each, the check's limits as a band behind all of them. On a
 * narrow drawing the name and note stand above the bar instead of beside it.
 */
export function intervalFigure(request: IntervalFigureRequest): Figure {
  const { rows, axis, band, widthPx } = request;
  const narrow = widthPx < narrowBelowPx;
  const longestLabelPx = Math.max(...rows.map((row) => textWidthPx(row.label, textSizePx.body)), 40);
  const longestNotePx = Math.max(...rows.map((row) => textWidthPx(row.note, textSizePx.small)), 0);
  const labelPx = narrow ? 0 : Math.min(longestLabelPx + 14, widthPx * 0.28);
  const notePx = narrow ? 0 : Math.min(longestNotePx + 14, widthPx * 0.3);
  const plotLeftPx = narrow ? 22 : labelPx + 8;
  const plotRightPx = widthPx - (narrow ? 22 : notePx + 8);
  const rowPx = narrow ? 52 : 34;
  const bottomPx = topPx + rows.length * rowPx;
  const x = linearScale(axis.from, axis.to, plotLeftPx, plotRightPx);
  const clampedX = (value: number) => x(Math.min(Math.max(value, axis.from), axis.to));

  const marks: Mark[] = [];
  if (band) {
    const bandLeft = clampedX(band.low);
    marks.push(
      rect(bandLeft, topPx - 6, Math.max(1, clampedX(band.high) - bandLeft), bottomPx - topPx + 6, {
        fill: { tone: "rule", opacity: 0.55, hatch: "solid" },
        stroke: null,
      }),
      text((bandLeft + clampedX(band.high)) / 2, topPx - 12, band.label, {
        anchor: "middle",
        sizePx: textSizePx.small,
        tone: "soft",
      }),
    );
  }
  for (const tick of roundTicks(axis.from, axis.to, narrow ? 4 : 8)) {
    marks.push(line([x(tick), topPx - 6], [x(tick), bottomPx], { tone: "rule" }));
    marks.push(
      text(x(tick), bottomPx + 18, axis.say(tick), {
        anchor: "middle",
        sizePx: textSizePx.small,
        tone: "soft",
      }),
    );
  }
  request.lines.forEach((across, position) => {
    const atPx = clampedX(across.at);
    const onLeft = atPx > (plotLeftPx + plotRightPx) / 2;
    marks.push(
      line([atPx, topPx - 6], [atPx, bottomPx + 4], { tone: across.tone, dash: [5, 3], weight: 1.5 }),
    );
    marks.push(
      text(atPx + (onLeft ? -5 : 5), bottomPx + 38 + position * 16, across.label, {
        anchor: onLeft ? "end" : "start",
        sizePx: textSizePx.small,
        tone: across.tone,
      }),
    );
  });
  rows.forEach((row, position) => {
    const top = topPx + position * rowPx;
    const middle = narrow ? top + 38 : top + rowPx / 2;
    const labelBase = narrow ? top + 18 : middle + 5;
    const noteWidthPx = narrow ? widthPx - 8 - textWidthPx(row.label, textSizePx.body) - 10 : notePx;
    marks.push(
      text(narrow ? 4 : 0, labelBase, cut(row.label, narrow ? widthPx * 0.6 : labelPx, textSizePx.body), {
        bold: row.isReference,
        halo: narrow,
      }),
      text(widthPx - (narrow ? 4 : 0), labelBase, cut(row.note, noteWidthPx, textSizePx.small), {
        anchor: "end",
        sizePx: textSizePx.small,
        tone: "soft",
        halo: narrow,
      }),
    );
    if (row.low !== null && row.high !== null) marks.push(...whisker(row.low, row.high, middle));
    if (row.estimate !== null)
      marks.push(
        symbol(clampedX(row.estimate), middle, { ...rowShape(row), sizePx: row.isReference ? 13 : 11 }),
      );
  });
  const footPx = 42 + request.lines.length * 16;
  marks.push(
    text(plotLeftPx, bottomPx + footPx, axis.title, { sizePx: textSizePx.small, tone: "soft" }),
    line([plotLeftPx, bottomPx], [plotRightPx, bottomPx], { tone: "soft" }),
  );

  function whisker(low: number, high: number, middle: number): Mark[] {
    const ends = [low, high].map((end) => ({ px: clampedX(end), beyond: end < axis.from || end > axis.to }));
    return [
      line([ends[0].px, middle], [ends[1].px, middle], { tone: "ink", weight: 2 }),
      ...ends.map((end, side) =>
        end.beyond
          ? text(end.px, middle + 5, side === 0 ? "‹" : "›", { anchor: "middle", bold: true })
          : line([end.px, middle - 6], [end.px, middle + 6], { tone: "ink", weight: 2 }),
      ),
    ];
  }

  return {
    id: request.id,
    title: request.title,
    description: request.description,
    widthPx,
    heightPx: bottomPx + footPx + 10,
    marks,
    table: request.table,
  };
}
