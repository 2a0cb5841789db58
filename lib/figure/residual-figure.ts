import type { PlotResidual } from "@/lib/analysis/finding";
import { sayDecimal, sayRounded } from "@/lib/words/say-number";
import type { Figure, Mark } from "./figure";
import { line, symbol, text, textSizePx } from "./marks";
import { linearScale, roundDomain, roundTicks } from "./scale";

const plotHeightPx = 200;

interface Panel {
  title: string;
  xTitle: string;
  points: { x: number; y: number; label: string }[];
  /** A line that the points should lie along: level at nought, or y = x. */
  guide: "level" | "diagonal";
}

/** Leverages that differ less than this are those of a layout with every plot in place, and say nothing. */
const leastSpreadOfLeverage = 0.02;

/**
 * The drawings by which a model's residuals are judged: against what was fitted (a funnel means that the spread grows
 * with the yield), against normal scores (a bend means long tails) and, where plots differ in it, against leverage (a
 * plot far to the right with a large residual pulls the fit to itself). Plots beyond ±2 carry their code.
 */
export function residualFigure(
  residuals: PlotResidual[],
  request: { unit: string; widthPx: number },
): Figure | null {
  const usable = residuals.filter(
    (plot): plot is PlotResidual & { studentised: number; normalScore: number } =>
      plot.studentised !== null && plot.normalScore !== null,
  );
  if (usable.length < 3) return null;
  const { widthPx } = request;
  const panels: Panel[] = [
    {
      title: "Residual against fitted",
      xTitle: `fitted, ${request.unit}`,
      points: usable.map((plot) => ({ x: plot.fitted, y: plot.studentised, label: plot.plot })),
      guide: "level",
    },
    {
      title: "Residual against normal score",
      xTitle: "normal score",
      points: usable.map((plot) => ({ x: plot.normalScore, y: plot.studentised, label: plot.plot })),
      guide: "diagonal",
    },
  ];
  const leverages = usable.map((plot) => plot.leverage);
  if (Math.max(...leverages) - Math.min(...leverages) > leastSpreadOfLeverage)
    panels.push({
      title: "Residual against leverage",
      xTitle: "leverage, 0 to 1",
      points: usable.map((plot) => ({ x: plot.leverage, y: plot.studentised, label: plot.plot })),
      guide: "level",
    });
  const across = widthPx >= 520 ? 2 : 1;
  const axisPx = 40;
  const panelPx = widthPx / across;
  const rowPx = plotHeightPx + 84;
  const residualSizes = usable.map((plot) => plot.studentised);
  const [lowest, highest] = roundDomain(Math.min(-2, ...residualSizes), Math.max(2, ...residualSizes), 4);
  const marks: Mark[] = panels.flatMap((panel, position) => {
    const left = (position % across) * panelPx + axisPx;
    const right = left + panelPx - axisPx - 24;
    const top = Math.floor(position / across) * rowPx + 30;
    return drawPanel(panel, { left, right, top, lowest, highest });
  });
  const spread = Math.max(...usable.map((plot) => Math.abs(plot.residual)));
  return {
    id: "residuals",
    title: "What the model leaves over",
    description: `Studentised residuals of ${usable.length} plots against fitted yields and against normal scores. The table beneath names each plot.`,
    widthPx,
    heightPx: Math.ceil(panels.length / across) * rowPx,
    marks,
    table: {
      caption: "Fitted yield and residual of each plot",
      columns: [
        { heading: "plot", numeric: false },
        { heading: "variety", numeric: false },
        { heading: `fitted, ${request.unit}`, numeric: true },
        { heading: "residual", numeric: true },
        { heading: "studentised", numeric: true },
        { heading: "leverage", numeric: true },
      ],
      rows: residuals.map((plot) => [
        plot.plot,
        plot.variety,
        sayRounded(plot.fitted, spread),
        sayRounded(plot.residual, spread),
        plot.studentised === null ? "–" : sayDecimal(plot.studentised, 2),
        sayDecimal(plot.leverage, 2),
      ]),
    },
  };
}

function drawPanel(
  panel: Panel,
  frame: { left: number; right: number; top: number; lowest: number; highest: number },
): Mark[] {
  const { left, right, top, lowest, highest } = frame;
  const bottom = top + plotHeightPx;
  const xs = panel.points.map((point) => point.x);
  const [from, to] =
    panel.guide === "diagonal" ? [lowest, highest] : roundDomain(Math.min(...xs), Math.max(...xs), 4);
  const x = linearScale(from, to, left, right);
  const y = linearScale(lowest, highest, bottom, top);
  const marks: Mark[] = [text(left, top - 12, panel.title, { sizePx: textSizePx.small })];
  for (const tick of roundTicks(lowest, highest, 4)) {
    marks.push(line([left, y(tick)], [right, y(tick)], { tone: "rule" }));
    marks.push(
      text(left - 6, y(tick) + 4, sayDecimal(tick, 0), {
        anchor: "end",
        sizePx: textSizePx.small,
        tone: "soft",
      }),
    );
  }
  for (const tick of roundTicks(from, to, 4))
    marks.push(
      line([x(tick), bottom], [x(tick), bottom + 5], { tone: "soft" }),
      text(x(tick), bottom + 19, String(tick).replace("-", "−"), {
        anchor: "middle",
        sizePx: textSizePx.small,
        tone: "soft",
      }),
    );
  marks.push(
    panel.guide === "level"
      ? line([left, y(0)], [right, y(0)], { tone: "ink", dash: [5, 3] })
      : line([x(lowest), y(lowest)], [x(highest), y(highest)], { tone: "ink", dash: [5, 3] }),
    text(left, bottom + 38, panel.xTitle, { sizePx: textSizePx.small, tone: "soft" }),
  );
  for (const point of panel.points) {
    marks.push(symbol(x(point.x), y(point.y), { shape: "circle", tone: "blue", sizePx: 8 }));
    if (Math.abs(point.y) <= 2) continue;
    const onLeft = x(point.x) > (left + right) / 2;
    marks.push(
      text(x(point.x) + (onLeft ? -8 : 8), y(point.y) + 4, point.label, {
        anchor: onLeft ? "end" : "start",
        sizePx: textSizePx.small,
        halo: true,
      }),
    );
  }
  return marks;
}
