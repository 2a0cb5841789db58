import { createElement } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import { FigureDrawing } from "@/app/_ui/figure";
import { bedFigure } from "@/lib/figure/bed-figure";
import type { Figure } from "@/lib/figure/figure";
import { lossFigure } from "@/lib/figure/loss-figure";
import { mainFigure } from "@/lib/figure/main-figure";
import { residualFigure } from "@/lib/figure/residual-figure";
import { standingFigure } from "@/lib/figure/standing-figure";
import { survivalDifferenceFigure } from "@/lib/figure/survival-difference-figure";
import { survivalFigure } from "@/lib/figure/survival-figure";
import { yieldDifferenceFigure } from "@/lib/figure/yield-difference-figure";
import { yieldFigure } from "@/lib/figure/yield-figure";
import type { Day } from "@/lib/words/day";
import {
  exampleLosses,
  exampleResiduals,
  exampleSplit,
  exampleStanding,
  exampleSurvival,
  exampleYield,
} from "./example-findings";

const varieties = ["Pennick", "Hollin", "Carrow", "Thornlea", "Tansy Mill"];

function exampleBed(widthPx: number): Figure {
  return bedFigure({
    id: "bed",
    title: "Plants standing in each plot",
    description: "The bed to scale.",
    bed: { name: "Long bed", widthMm: 1200, lengthMm: 6000 },
    plots: varieties.flatMap((variety, place) =>
      [0, 1].map((row) => ({
        code: `${row === 0 ? "A" : "B"}${place + 1}`,
        variety,
        block: row + 1,
        xMm: row * 600,
        yMm: place * 1200,
        widthMm: 600,
        lengthMm: 1200,
        words: `${8 - place - row} of 8`,
        shade: (place + row) / 8,
        isCheck: variety === "Hollin",
      })),
    ),
    wordsHeading: "standing",
    widthPx,
  });
}

/** A split plot with a companion, and a post in the way. */
function exampleSplitPlot(widthPx: number): Figure {
  const levels = ["open ground", "White fleece"];
  return bedFigure({
    id: "split-plot",
    title: "Long bed: what goes where",
    description: "The bed to scale.",
    bed: {
      name: "Long bed",
      widthMm: 1200,
      lengthMm: 6000,
      takenUp: [{ fromMm: 2400, toMm: 2800 }],
    },
    levels,
    plantRows: 1,
    companions: [
      { name: "Spring onions", under: null, betweenPlantsMm: 150, words: "every 15 cm, sown Sat 1 Aug" },
    ],
    plots: [0, 600, 1200, 1800, 2800, 3400, 4000, 4600].flatMap((yMm, line) =>
      ["Pennick", "Hollin", "Carrow"].map((variety, place) => ({
        code: `${line < 4 ? "A" : "B"}${(line % 4) * 3 + place + 1}`,
        variety,
        block: line < 4 ? 1 : 2,
        xMm: place * 400,
        yMm,
        widthMm: 400,
        lengthMm: 600,
        words: "2 plants",
        shade: null,
        isCheck: variety === "Hollin",
        under: levels[(Math.floor(line / 2) + (line < 4 ? 0 : 1)) % 2],
      })),
    ),
    wordsHeading: "to plant",
    wordsInTableOnly: true,
    widthPx,
  });
}

const figures: Record<string, (widthPx: number) => Figure | null> = {
  survival: (widthPx) => survivalFigure(exampleSurvival, { check: "Hollin", floor: 0.7, widthPx }),
  "survival-differences": (widthPx) => survivalDifferenceFigure(exampleSurvival, { widthPx }),
  losses: (widthPx) => lossFigure(exampleLosses, exampleSurvival, { widthPx }),
  standing: (widthPx) => standingFigure(exampleStanding, { check: "Hollin", widthPx }),
  "standing-and-frosts": (widthPx) =>
    standingFigure(exampleStanding, {
      check: "Hollin",
      frosts: [
        { day: "2026-12-10" as Day, minDeciC: -12 },
        { day: "2027-01-20" as Day, minDeciC: -75 },
      ],
      widthPx,
    }),
  yield: (widthPx) => yieldFigure(exampleYield, { check: "Hollin", widthPx }),
  "yield-differences": (widthPx) => yieldDifferenceFigure(exampleYield, { widthPx }),
  bed: exampleBed,
  "bed-split-plot": exampleSplitPlot,
  "covers-and-varieties": (widthPx) => mainFigure(exampleSplit, { widthPx }),
  residuals: (widthPx) => residualFigure(exampleResiduals, { unit: "g per plant set out", widthPx }),
};

/** One mark a line, so that a change of one mark is one line of a snapshot. */
function svgOf(figure: Figure): string {
  return `${renderToStaticMarkup(createElement(FigureDrawing, { figure })).replaceAll("><", ">\n<")}\n`;
}

describe("a figure of limits", () => {
  it.each([720, 336])("tells every name in full, however long, %i px wide", (widthPx) => {
    const cells = exampleSplit.value.main?.cells.map((cell) => ({
      ...cell,
      treatment: "White fleece over long hoops",
      variety: "Sallow Gate Winter Giant",
    }));
    const main = exampleSplit.value.main && { ...exampleSplit.value.main, cells: cells ?? [] };
    const figure = mainFigure({ ...exampleSplit, value: { ...exampleSplit.value, main } }, { widthPx });
    const words = figure?.marks.flatMap((mark) => (mark.kind === "text" ? [mark.text] : [])) ?? [];
    expect(words.join(" ")).toContain("White fleece over long hoops: Sallow Gate Winter Giant");
    expect(words.join(" ")).not.toContain("…");
  });
});

/** Both ends of a text as wide as it is at the least, its letters averaging 0.48 of its size. */
function endsOf({ x, y, text, anchor, sizePx }: Extract<Figure["marks"][number], { kind: "text" }>) {
  const widthPx = text.length * sizePx * 0.48;
  const from = anchor === "start" ? x : anchor === "end" ? x - widthPx : x - widthPx / 2;
  return [[from, y] as const, [from + widthPx, y] as const];
}

describe.each(Object.entries(figures))("the figure of %s", (name, draw) => {
  it.each([720, 336])("is drawn as last looked at, %i px wide", async (widthPx) => {
    const figure = draw(widthPx) as Figure;
    await expect(svgOf(figure)).toMatchFileSnapshot(`./drawn/${name}-${widthPx}.svg`);
  });

  it.each([720, 336])("keeps every mark inside its frame, %i px wide", (widthPx) => {
    const figure = draw(widthPx) as Figure;
    for (const mark of figure.marks) {
      const points: (readonly [number, number])[] =
        mark.kind === "line"
          ? [
              [mark.x1, mark.y1],
              [mark.x2, mark.y2],
            ]
          : mark.kind === "path"
            ? [...mark.points]
            : mark.kind === "rect"
              ? [
                  [mark.x, mark.y],
                  [mark.x + mark.width, mark.y + mark.height],
                ]
              : mark.kind === "text"
                ? endsOf(mark)
                : [[mark.x, mark.y]];
      for (const [x, y] of points) {
        expect(Number.isFinite(x) && Number.isFinite(y)).toBe(true);
        expect(x).toBeGreaterThanOrEqual(-0.5);
        expect(x).toBeLessThanOrEqual(figure.widthPx + 0.5);
        expect(y).toBeGreaterThanOrEqual(-0.5);
        expect(y).toBeLessThanOrEqual(figure.heightPx + 0.5);
      }
    }
  });

  it("holds the same figures as text, whatever its width", () => {
    const wide = draw(720) as Figure;
    const narrow = draw(336) as Figure;
    expect(wide.table).toEqual(narrow.table);
    expect(wide.table.rows.length).toBeGreaterThan(0);
    for (const row of wide.table.rows) expect(row).toHaveLength(wide.table.columns.length);
  });
});
