import type { ReachPoint } from "@/lib/words/reach-point";
import type { Figure, Mark } from "./figure";
import { line, path, symbol, text, textSizePx } from "./marks";
import { seriesLook } from "./palette";
import { linearScale, roundTicks } from "./scale";

/** What the curves are of. */
export type ReachOf = "survival" | "yield";

const titles: Record<ReachOf, string> = {
  survival: "The smallest difference in survival that would show four times in five",
  yield: "The smallest loss of yield that would show four times in five",
};

function blockWords(blocks: number): string {
  return blocks === 1 ? "1 block" : `${blocks} blocks`;
}

function inHundred(share: number | null): string {
  return share === null ? "none" : String(Math.round(share * 100));
}

/** Labels set apart along a line, each no nearer than `gapPx` to the next, as near to where they belong as that lets. */
function spreadLabels(wanted: number[], gapPx: number, bottomPx: number): number[] {
  const order = wanted.map((at, place) => ({ at, place })).sort((a, b) => a.at - b.at);
  let free = Number.NEGATIVE_INFINITY;
  const placed = order.map(({ at, place }) => {
    free = Math.max(at, free + gapPx);
    return { place, at: free };
  });
  for (let index = placed.length - 1, most = bottomPx; index >= 0; index -= 1, most -= gapPx) {
    placed[index].at = Math.min(placed[index].at, most);
    most = placed[index].at;
  }
  const result = wanted.map(() => 0);
  for (const { place, at } of placed) result[place] = at;
  return result;
}

/**
 * What a trial would show over plants a plot, a line for every number of blocks: sizes that the beds hold have a filled
 * mark, the others a hollow one, and the plan as it stands stands out. Yield hangs on the number of plots alone, and is
 * drawn over blocks. Null where there is nothing to draw.
 */
export function reachFigure(
  points: readonly ReachPoint[],
  request: { of: ReachOf; widthPx: number },
): Figure | null {
  return request.of === "survival"
    ? survivalCurves(points, request.widthPx)
    : yieldCurve(points, request.widthPx);
}

interface Frame {
  marks: Mark[];
  x: (value: number) => number;
  y: (share: number) => number;
  bottomPx: number;
  rightPx: number;
}

/** Axes of a curve: hundredths upward, whole numbers along. */
function frameOf(own: {
  widthPx: number;
  rightPx: number;
  first: number;
  last: number;
  top: number;
  along: string;
  upward: string;
}): Frame {
  const { widthPx, rightPx, first, last, along, upward } = own;
  const topPx = 34;
  const bottomPx = topPx + (widthPx < 520 ? 200 : 240);
  const leftPx = 34;
  const x = linearScale(first, last, leftPx + 8, rightPx);
  const y = linearScale(0, own.top, bottomPx, topPx);
  const marks: Mark[] = [text(0, 16, upward, { sizePx: textSizePx.small, tone: "soft" })];
  for (const tick of roundTicks(0, own.top * 100, 4)) {
    marks.push(line([leftPx, y(tick / 100)], [rightPx, y(tick / 100)], { tone: "rule" }));
    marks.push(
      text(leftPx - 6, y(tick / 100) + 4, String(tick), {
        anchor: "end",
        sizePx: textSizePx.small,
        tone: "soft",
      }),
    );
  }
  for (const tick of roundTicks(first, last, widthPx < 520 ? 6 : 12).filter(Number.isInteger)) {
    marks.push(line([x(tick), bottomPx], [x(tick), bottomPx + 5], { tone: "soft" }));
    marks.push(
      text(x(tick), bottomPx + 19, String(tick), {
        anchor: "middle",
        sizePx: textSizePx.small,
        tone: "soft",
      }),
    );
  }
  marks.push(text(leftPx, bottomPx + 38, along, { sizePx: textSizePx.small, tone: "soft" }));
  return { marks, x, y, bottomPx, rightPx };
}

/** The plan's own mark, with its figure beside it. */
function planMark(
  { x, y }: Frame,
  at: number,
  share: number,
  words: string,
  anchor: "start" | "end",
): Mark[] {
  return [
    symbol(x(at), y(share), { shape: "diamond", tone: "vermillion", sizePx: 17 }),
    text(x(at) + (anchor === "start" ? 11 : -11), y(share) - 10, words, { bold: true, anchor, halo: true }),
  ];
}

const legend = "filled: the bed holds it; hollow: it does not; diamond: this plan";

function survivalCurves(points: readonly ReachPoint[], widthPx: number): Figure | null {
  const seen = points.filter((point) => point.survival !== null);
  if (seen.length === 0) return null;
  const plants = points.map((point) => point.plantsPerPlot);
  const blocks = [...new Set(points.map((point) => point.blocks))];
  const top = Math.max(...seen.map((point) => point.survival as number));
  const frame = frameOf({
    widthPx,
    rightPx: widthPx - 76,
    first: Math.min(...plants),
    last: Math.max(...plants),
    top: Math.ceil(top * 10) / 10,
    along: "plants a plot",
    upward: "points of survival: lower is better",
  });
  const { marks, x, y, bottomPx, rightPx } = frame;
  const lines = blocks.flatMap((count) => {
    const own = seen.filter((point) => point.blocks === count);
    return own.length === 0 ? [] : [{ count, own }];
  });
  const labels = spreadLabels(
    lines.map(({ own }) => y(own[own.length - 1].survival as number)),
    16,
    bottomPx,
  );
  const marked: Mark[] = [];
  lines.forEach(({ count, own }, place) => {
    const { tone, dash, shape } = seriesLook(blocks.indexOf(count));
    const isPlanned = own.some((point) => point.isPlan);
    const corners = own.map((point) => [x(point.plantsPerPlot), y(point.survival as number)] as const);
    marks.push(path(corners, { tone, dash, weight: isPlanned ? 2.5 : 1.5 }));
    for (const point of own)
      marked.push(
        symbol(x(point.plantsPerPlot), y(point.survival as number), {
          shape: shape === "cross" || shape === "diamond" ? "circle" : shape,
          tone,
          sizePx: 8,
          filled: point.fits,
        }),
      );
    marks.push(
      text(rightPx + 10, labels[place] + 5, blockWords(count), { sizePx: textSizePx.small, bold: isPlanned }),
    );
  });
  marks.push(...marked);
  const plan = seen.find((point) => point.isPlan);
  if (plan) {
    const isRight = x(plan.plantsPerPlot) > rightPx - 90;
    marks.push(
      ...planMark(
        frame,
        plan.plantsPerPlot,
        plan.survival as number,
        `${inHundred(plan.survival)} points`,
        isRight ? "end" : "start",
      ),
    );
  }
  legendLines(widthPx).forEach((told, place) => {
    marks.push(text(0, bottomPx + 60 + place * 18, told, { sizePx: textSizePx.small, tone: "soft" }));
  });
  const counts = [...new Set(plants)].sort((a, b) => a - b);
  const find = (count: number, own: number) =>
    points.find((point) => point.blocks === count && point.plantsPerPlot === own);
  return {
    id: "reach-survival",
    title: titles.survival,
    description:
      "Over numbers of plants in each plot, a line for every number of blocks; the plan as it stands is marked. The table holds the same figures.",
    widthPx,
    heightPx: bottomPx + 60 + legendLines(widthPx).length * 18,
    marks,
    table: {
      caption:
        "Points of survival that would show four times in five; in brackets what the bed does not hold",
      columns: [
        { heading: "plants a plot", numeric: true },
        ...blocks.map((count) => ({ heading: blockWords(count), numeric: true })),
      ],
      rows: counts.map((own) => [
        String(own),
        ...blocks.map((count) => {
          const point = find(count, own);
          if (!point) return "–";
          const figure = inHundred(point.survival);
          return `${point.fits ? figure : `(${figure})`}${point.isPlan ? ", this plan" : ""}`;
        }),
      ]),
    },
  };
}

function legendLines(widthPx: number): string[] {
  return widthPx >= 520 ? [legend] : ["filled: the bed holds it; hollow: it does not", "diamond: this plan"];
}

function yieldCurve(points: readonly ReachPoint[], widthPx: number): Figure | null {
  const plan = points.find((point) => point.isPlan);
  const own = points.filter((point) => point.yield !== null && point.plantsPerPlot === plan?.plantsPerPlot);
  if (own.length < 2 || !plan) return null;
  const blocks = own.map((point) => point.blocks);
  const top = Math.max(...own.map((point) => point.yield as number));
  const frame = frameOf({
    widthPx,
    rightPx: widthPx - 12,
    first: Math.min(...blocks),
    last: Math.max(...blocks),
    top: Math.ceil(top * 10) / 10,
    along: "blocks",
    upward: "in 100 less than the check: lower is better",
  });
  const { marks, x, y, bottomPx, rightPx } = frame;
  const { tone } = seriesLook(0);
  marks.push(
    path(
      own.map((point) => [x(point.blocks), y(point.yield as number)] as const),
      { tone, weight: 2 },
    ),
    ...own.map((point) =>
      symbol(x(point.blocks), y(point.yield as number), {
        shape: "circle",
        tone,
        sizePx: 9,
        filled: point.fits,
      }),
    ),
  );
  if (plan.yield !== null)
    marks.push(
      ...planMark(
        frame,
        plan.blocks,
        plan.yield,
        `${inHundred(plan.yield)} in 100`,
        x(plan.blocks) > rightPx - 90 ? "end" : "start",
      ),
    );
  legendLines(widthPx).forEach((told, place) => {
    marks.push(text(0, bottomPx + 60 + place * 18, told, { sizePx: textSizePx.small, tone: "soft" }));
  });
  return {
    id: "reach-yield",
    title: titles.yield,
    description: "Over numbers of blocks, with as many plants in each plot as in this plan, which is marked.",
    widthPx,
    heightPx: bottomPx + 60 + legendLines(widthPx).length * 18,
    marks,
    table: {
      caption:
        "Yield in 100 less than the check’s that would show four times in five, with as many plants in each plot as in this plan",
      columns: [
        { heading: "blocks", numeric: true },
        { heading: "in 100 less", numeric: true },
        { heading: "the bed holds it", numeric: false },
      ],
      rows: own.map((point) => [
        `${point.blocks}${point.isPlan ? ", this plan" : ""}`,
        inHundred(point.yield),
        point.fits ? "yes" : "no",
      ]),
    },
  };
}
