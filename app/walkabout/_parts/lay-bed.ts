import type { FieldBed, FieldPlot } from "@/lib/sync/field-pack";

/** The least side of a target that cold wet hands can hit. */
export const targetPx = 56;
/** A plot with more rows of marks than this would make the bed too long to walk down. */
const mostRows = 6;
const borderPx = 4;
/** A stake code stands beside its marks where this much is left over. */
const narrowestStakePx = 96;
const widestStakePx = 150;
/** A mark narrower than this is not tapped on the bed: its plot opens instead. */
export const leastMarkPx = 24;
/** Of a plot with more plants than this the marks are drawn small and it opens to be tapped, or the bed would have no end. */
const mostDirect = 12;
/** More plants than this are not drawn one by one: their plot opens to a count. */
export const mostMarks = 40;
/** The row of a small mark. */
const smallPx = 20;

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
  /** Whether its marks are drawn small, to be seen and not tapped. */
  small: boolean;
  /** Where the stake code stands: this wide at the left of the marks, or (null) above them. */
  stakePx: number | null;
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
    // Rows of plants run along the bed, so that many stand side by side; where they are too many for the screen they are
    // folded rather than shrunk out of reach.
    const inRow = Math.max(1, box.plot.plantRows);
    const acrossBed = turned ? Math.ceil(marks / inRow) : inRow;
    const fits = Math.max(1, Math.floor(plotPx / targetPx));
    const markColumns = plotPx / acrossBed >= leastMarkPx ? acrossBed : Math.min(acrossBed, fits);
    const markRows = Math.ceil(marks / markColumns);
    const direct = marks <= mostDirect && plotPx / markColumns >= leastMarkPx && markRows <= mostRows;
    const small = !direct && marks <= mostMarks;
    const markPx = direct ? targetPx : smallPx;
    const besidePx = Math.min(widestStakePx, plotPx - borderPx - markColumns * markPx);
    const stakePx = (direct || small) && besidePx >= narrowestStakePx ? besidePx : null;
    const marksPx = direct || small ? markRows * markPx : 0;
    const neededPx = (stakePx === null ? targetPx + marksPx : Math.max(targetPx, marksPx)) + borderPx;
    return { box, markColumns, markRows, direct, small, stakePx, neededPx };
  });
  const alongPx = Math.max(acrossPx / 4, ...shaped.map(({ box, neededPx }) => neededPx / box.length));

  return {
    widthPx,
    heightPx: Math.round((bottom - top) * alongPx),
    plots: shaped.map(({ box, markColumns, markRows, direct, small, stakePx }) => ({
      plot: box.plot,
      leftPx: (box.x - left) * acrossPx,
      topPx: (box.y - top) * alongPx,
      widthPx: box.width * acrossPx,
      heightPx: box.length * alongPx,
      markColumns,
      markRows,
      direct,
      small,
      stakePx,
    })),
  };
}
