import type { Figure, FigureTable, Mark, Shape, Tone } from "./figure";
import { line, rect, symbol, text, textSizePx, textWidthPx, wrapped } from "./marks";
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

const lineStepPx = 16;

/** The mark of a row: the check is a diamond, the others are circles, so that it is found without colour. */
function rowShape(row: IntervalRow): { shape: Shape; tone: Tone } {
  return row.isReference ? { shape: "diamond", tone: "ink" } : { shape: "circle", tone: "blue" };
}

/**
 * Estimates with their limits on one common scale, one row each, the check's limits as a band behind all of them. On a
 * narrow drawing the name and note stand above the bar instead of beside it. Names and notes are never cut: what is too
 * long for its place goes on over further lines.
 */
export function intervalFigure(request: IntervalFigureRequest): Figure {
  const { rows, axis, band, widthPx } = request;
  const narrow = widthPx < narrowBelowPx;
  const longestLabelPx = Math.max(...rows.map((row) => textWidthPx(row.label, textSizePx.body)), 40);
  const longestNotePx = Math.max(...rows.map((row) => textWidthPx(row.note, textSizePx.small)), 0);
  const labelPx = Math.min(longestLabelPx + 14, widthPx * 0.3);
  const notePx = Math.min(longestNotePx + (narrow ? 4 : 14), widthPx * (narrow ? 0.5 : 0.3));
  const plotLeftPx = narrow ? 22 : labelPx + 8;
  const plotRightPx = widthPx - (narrow ? 22 : notePx + 8);
  const told = rows.map((row) => {
    const labels = wrapped(row.label, narrow ? widthPx - notePx - 16 : labelPx, textSizePx.body);
    const notes = wrapped(row.note, notePx, textSizePx.small);
    const further = Math.max(labels.length, notes.length) - 1;
    const heightPx = narrow ? 52 + further * lineStepPx : Math.max(34, 24 + further * lineStepPx);
    return { row, labels, notes, heightPx };
  });
  const tops = told.map((_, position) =>
    told.slice(0, position).reduce((sum, { heightPx }) => sum + heightPx, topPx),
  );
  const bottomPx = told.reduce((sum, { heightPx }) => sum + heightPx, topPx);
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
  told.forEach(({ row, labels, notes, heightPx }, position) => {
    const top = tops[position];
    const middle = narrow ? top + heightPx - 14 : top + heightPx / 2;
    const baseOf = (lines: string[], line: number) =>
      (narrow ? top + 18 : middle + 5 - ((lines.length - 1) * lineStepPx) / 2) + line * lineStepPx;
    marks.push(
      ...labels.map((words, line) =>
        text(narrow ? 4 : 0, baseOf(labels, line), words, { bold: row.isReference, halo: narrow }),
      ),
      ...notes.map((words, line) =>
        text(widthPx - (narrow ? 4 : 0), baseOf(notes, line), words, {
          anchor: "end",
          sizePx: textSizePx.small,
          tone: "soft",
          halo: narrow,
        }),
      ),
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
