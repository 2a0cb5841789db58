import type { FieldBed, FieldPlot } from "@/lib/sync/field-pack";

/** The least side of a target that cold wet hands can hit. */
export const targetPx = 56;
const borderPx = 4;
/** A mark narrower than this is not tapped on the bed: its plot opens instead. */
export const leastMarkPx = 24;
/** More plants than this are not drawn one by one: their plot opens to a count. */
export const mostMarks = 24;

export interface LaidPlot {
  plot: FieldPlot;
  leftPx: number;
  topPx: number;
  widthPx: number;
  heightPx: number;
  markColumns: number;
  markRows: number;
  /** Whether its marks are tapped on the bed itself. */
  direct: boolean;
}

export interface LaidBed {
  widthPx: number;
  heightPx: number;
  plots: LaidPlot[];
}

interface Box {
  plot: FieldPlot;
  x: number;
  y: number;
  width: number;
  length: number;
}

/**
 * Lays a bed on the screen as it lies, its long side down: true across to the width given, and stretched along as far as
 * every plot needs for its stake code and its rows of marks, each as tall as a target. `marksOf` says how many marks a
 * plot is drawn with.
 */
export function layBed(bed: FieldBed, widthPx: number, marksOf: (plot: FieldPlot) => number): LaidBed {
  const lengthwise = Math.max(...bed.plots.map((plot) => plot.xMm + plot.widthMm));
  const widthwise = Math.max(...bed.plots.map((plot) => plot.yMm + plot.lengthMm));
  // A plot's x runs across the bed unless the plots themselves say that it runs along.
  const turned = lengthwise > widthwise && lengthwise > Math.min(bed.widthMm, bed.lengthMm);
  const boxes = bed.plots.map(
    (plot): Box =>
      turned
        ? { plot, x: plot.yMm, y: plot.xMm, width: plot.lengthMm, length: plot.widthMm }
        : { plot, x: plot.xMm, y: plot.yMm, width: plot.widthMm, length: plot.lengthMm },
  );
  const left = Math.min(...boxes.map((box) => box.x));
  const right = Math.max(...boxes.map((box) => box.x + box.width));
  const top = Math.min(...boxes.map((box) => box.y));
  const bottom = Math.max(...boxes.map((box) => box.y + box.length));

  const acrossPx = widthPx / (right - left);
  const shaped = boxes.map((box) => {
    const marks = marksOf(box.plot);
    const plotPx = box.width * acrossPx;
    const asLain = Math.ceil(marks / Math.max(1, box.plot.plantRows));
    // Plants lie in rows; where a row is too wide for the screen it is folded rather than shrunk out of reach.
    const fits = Math.max(1, Math.floor(plotPx / targetPx));
    const inRow = turned ? Math.max(1, box.plot.plantRows) : asLain;
    const markColumns = plotPx / inRow >= leastMarkPx ? inRow : Math.min(inRow, fits);
    const markRows = Math.ceil(marks / markColumns);
    const direct = marks > 0 && marks <= mostMarks && plotPx / markColumns >= leastMarkPx && markRows <= 4;
    const neededPx = targetPx + (direct ? markRows * targetPx : 0) + borderPx;
    return { box, markColumns, markRows, direct, neededPx };
  });
  const alongPx = Math.max(acrossPx / 4, ...shaped.map(({ box, neededPx }) => neededPx / box.length));

  return {
    widthPx,
    heightPx: Math.round((bottom - top) * alongPx),
    plots: shaped.map(({ box, markColumns, markRows, direct }) => ({
      plot: box.plot,
      leftPx: (box.x - left) * acrossPx,
      topPx: (box.y - top) * alongPx,
      widthPx: box.width * acrossPx,
      heightPx: box.length * alongPx,
      markColumns,
      markRows,
      direct,
    })),
  };
}
