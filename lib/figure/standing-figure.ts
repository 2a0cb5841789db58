import type { Finding, StandingCurve } from "@/lib/analysis/finding";
import { type Day, sayDay } from "@/lib/words/day";
import { inAHundred, sayPercent } from "@/lib/words/say-number";
import type { Figure, Mark } from "./figure";
import { line, path, rect, surface, text, textSizePx, wrapped } from "./marks";
import { dayScale, linearScale, monthStarts } from "./scale";

const monthNames = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

function monthName(day: Day): string {
  return monthNames[Number(day.slice(5, 7)) - 1];
}

/** Tenths of a degree Celsius below which a frost is drawn long. */
const hardFrostDeciC = -50;

type Step = StandingCurve["steps"][number];

/** The corners of a stepped line: a value holds from its day until the next. */
function corners(
  steps: Step[],
  lastDay: Day,
  x: (day: Day) => number,
  y: (share: number) => number,
  shareOf: (step: Step) => number,
): [number, number][] {
  const points: [number, number][] = [];
  steps.forEach((step, position) => {
    const until = steps[position + 1]?.day ?? lastDay;
    points.push([x(step.day), y(shareOf(step))], [x(until), y(shareOf(step))]);
  });
  return points;
}

/**
 * Standing over time, one panel a variety on common axes: a step at each walkabout with the band of its limits, the
 * check as a dashed line in every panel, a mark for each walkabout, and the plants still watched beneath.
 */
export function standingFigure(
  finding: Finding<StandingCurve[]>,
  request: { check: string | null; frosts?: { day: Day; minDeciC: number }[]; widthPx: number },
): Figure | null {
  const curves = finding.value.filter((curve) => curve.steps.length > 0);
  if (curves.length === 0) return null;
  const { widthPx } = request;
  const days = [...new Set(curves.flatMap((curve) => curve.steps.map((step) => step.day)))].sort();
  const [firstDay, lastDay] = [days[0], days[days.length - 1]];
  const across = widthPx >= 660 ? 3 : widthPx >= 520 ? 2 : 1;
  const columns = Math.min(across, curves.length);
  const axisPx = 52;
  const panelPx = (widthPx - axisPx) / columns;
  const plotHeightPx = 128;
  const rowPx = plotHeightPx + 92;
  const check = curves.find((curve) => curve.variety === request.check);
  const marks: Mark[] = [];
  const frosts = (request.frosts ?? []).filter((night) => night.day > firstDay && night.day <= lastDay);

  curves.forEach((curve, position) => {
    const column = position % columns;
    const left = axisPx + column * panelPx;
    const right = left + panelPx - 16;
    const top = Math.floor(position / columns) * rowPx + 28;
    const bottom = top + plotHeightPx;
    const x = dayScale(firstDay, lastDay, left, right);
    const y = linearScale(0, 1, bottom, top);

    marks.push(text(left, top - 10, curve.variety, { bold: curve.variety === request.check }));
    for (const share of [0, 0.5, 1]) {
      marks.push(line([left, y(share)], [right, y(share)], { tone: "rule" }));
      if (column === 0)
        marks.push(
          text(left - 6, y(share) + 4, sayPercent(share), {
            anchor: "end",
            sizePx: textSizePx.small,
            tone: "soft",
          }),
        );
    }
    const banded = curve.steps.filter((step) => step.low !== null && step.high !== null);
    if (banded.length > 0)
      marks.push(
        surface(
          [
            ...corners(banded, lastDay, x, y, (step) => step.high as number),
            ...corners(banded, lastDay, x, y, (step) => step.low as number).reverse(),
          ],
          { tone: "sky", opacity: 0.35 },
        ),
      );
    if (check && check !== curve)
      marks.push(
        path(
          corners(check.steps, lastDay, x, y, (step) => step.standing),
          { tone: "soft", dash: [4, 3], weight: 1.2 },
        ),
      );
    marks.push(
      path(
        corners(curve.steps, lastDay, x, y, (step) => step.standing),
        { tone: "ink", weight: 2 },
      ),
    );
    for (const stretch of curve.stretches)
      marks.push(
        rect(
          x(stretch.from),
          y(stretch.before),
          x(stretch.to) - x(stretch.from),
          y(stretch.after) - y(stretch.before),
          {
            fill: { tone: "soft", opacity: 0.2, hatch: "solid" },
            stroke: { tone: "soft", weight: 1, dash: [2, 2] },
          },
        ),
      );
    for (const isHard of [false, true])
      for (const night of frosts.filter(({ minDeciC }) => minDeciC < hardFrostDeciC === isHard))
        marks.push(
          line([x(night.day), bottom], [x(night.day), bottom - (isHard ? 14 : 6)], {
            tone: "blue",
            weight: isHard ? 1.6 : 0.8,
          }),
        );
    for (const step of curve.steps)
      marks.push(line([x(step.day), bottom], [x(step.day), bottom + 5], { tone: "ink" }));
    let freeFromPx = left - 1;
    for (const start of monthStarts(firstDay, lastDay)) {
      if (x(start) < freeFromPx || x(start) > right - 20) continue;
      marks.push(line([x(start), bottom], [x(start), bottom + 9], { tone: "soft" }));
      marks.push(
        text(x(start) + 2, bottom + 19, monthName(start), { sizePx: textSizePx.small, tone: "soft" }),
      );
      freeFromPx = x(start) + 32;
    }
    let watchedFromPx = left - 1;
    curve.steps.forEach((step, place) => {
      const isLast = place === curve.steps.length - 1;
      const at = isLast ? right : x(step.day);
      if (at < watchedFromPx || (!isLast && at > right - 44)) return;
      marks.push(
        text(at, bottom + 38, String(step.atRisk), {
          anchor: isLast ? "end" : "start",
          sizePx: textSizePx.small,
        }),
      );
      watchedFromPx = at + 30;
    });
  });
  const rows = Math.ceil(curves.length / columns);
  const footPx = rows * rowPx;
  const foot = [
    "beneath: plants still watched",
    "short marks: walkabouts",
    frosts.length > 0 ? "marks upwards: nights below 0 °C, long ones below −5 °C" : null,
    curves.some((curve) => curve.stretches.length > 0) ? "dotted boxes: lost between these days" : null,
    check ? `dashed: ${check.variety}, the check` : null,
  ].filter((words) => words !== null);
  const perLine = widthPx < 520 ? 1 : 2;
  const footLines = Array.from({ length: Math.ceil(foot.length / perLine) }, (_, place) =>
    foot.slice(place * perLine, (place + 1) * perLine).join("; "),
  ).flatMap((words) => wrapped(words, widthPx - axisPx, textSizePx.small));
  footLines.forEach((words, position) => {
    marks.push(text(axisPx, footPx + position * 18, words, { sizePx: textSizePx.small, tone: "soft" }));
  });

  const level = Math.round(finding.level * 100);
  return {
    id: "standing",
    title: `Standing from ${sayDay(firstDay, true)} to ${sayDay(lastDay, true)}`,
    description: `Share of plants standing after each walkabout for ${curves.length} varieties, with ${level} % limits as a band. The table beneath holds the same figures.`,
    widthPx,
    heightPx: footPx + footLines.length * 18 + 4,
    marks,
    table: {
      caption: `Plants standing in a hundred after each walkabout, with ${level} % limits, of how many still watched`,
      columns: [
        { heading: "day", numeric: false },
        ...curves.map((curve) => ({ heading: curve.variety, numeric: true })),
      ],
      rows: days.map((day) => [
        sayDay(day).replaceAll(" ", "\u00a0"),
        ...curves.map((curve) => {
          const step = curve.steps.find((one) => one.day === day);
          if (!step) return "–";
          const limits =
            step.low === null || step.high === null
              ? ""
              : ` (${inAHundred(step.low)}–${inAHundred(step.high)})`;
          return `${inAHundred(step.standing)}${limits} of ${step.atRisk}`;
        }),
      ]),
    },
  };
}
