import { sayLengthMm } from "@/lib/words/length";

interface Placed {
  yMm: number;
  lengthMm: number;
}

interface Drawn {
  name: string;
  widthMm: number;
  lengthMm: number;
  takenUp?: readonly { fromMm: number; toMm: number }[];
}

/** A piece of a bed that is drawn by itself, its measures from where it begins. */
export interface BedStretch<Plot> {
  bed: Drawn;
  plots: Plot[];
}

/** A plot narrower than this on the drawing holds no stake code. */
const leastPlotPx = 22;

/**
 * Cuts a long bed into stretches in which every plot is wide enough for its stake code, each cut where a plot begins. A
 * bed whose plots are wide enough stays whole.
 *
 * @param widthPx of the drawing, along the bed
 */
export function bedStretches<Plot extends Placed>(
  bed: Drawn,
  plots: readonly Plot[],
  widthPx: number,
): BedStretch<Plot>[] {
  const shortest = Math.min(...plots.map((plot) => plot.lengthMm));
  const mostMm = shortest * Math.floor(widthPx / leastPlotPx);
  if (plots.length === 0 || bed.lengthMm <= mostMm) return [{ bed, plots: [...plots] }];
  const starts = [0];
  for (const y of [...new Set(plots.map((plot) => plot.yMm))].sort((a, b) => a - b)) {
    const ends = Math.max(...plots.filter((plot) => plot.yMm === y).map((plot) => y + plot.lengthMm));
    if (ends - starts[starts.length - 1] > mostMm && y > 0) starts.push(y);
  }
  return starts.map((from, index) => {
    const isLast = index === starts.length - 1;
    const own = plots.filter((plot) => plot.yMm >= from && (isLast || plot.yMm < starts[index + 1]));
    // What lies beyond the last plot is left out: it may be far longer than a stretch.
    const to = isLast ? Math.max(...own.map((plot) => plot.yMm + plot.lengthMm)) : starts[index + 1];
    return {
      bed: {
        ...bed,
        name: `${bed.name}, from ${from === 0 ? "the path end" : sayLengthMm(from)} to ${sayLengthMm(to)}`,
        lengthMm: to - from,
        takenUp: bed.takenUp
          ?.filter((way) => way.toMm > from && way.fromMm < to)
          .map((way) => ({ fromMm: Math.max(0, way.fromMm - from), toMm: Math.min(to, way.toMm) - from })),
      },
      plots: own.map((plot) => ({ ...plot, yMm: plot.yMm - from })),
    };
  });
}
