import { createElement } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import { FigureDrawing } from "@/app/_ui/figure";
import { planReach } from "@/lib/design/plan-reach";
import { reachFigure } from "@/lib/figure/reach-figure";

const points = planReach({
  design: "rcbd",
  entries: 5,
  blocks: 4,
  plantsPerPlot: 4,
  betweenPlantsMm: 300,
  betweenRowsMm: 300,
  beds: [{ id: "long", widthMm: 1_200, lengthMm: 6_000 }],
});

describe("what a plan can show, drawn", () => {
  for (const of of ["survival", "yield"] as const)
    for (const widthPx of [720, 336])
      it(`${of} at ${widthPx} px`, async () => {
        const figure = reachFigure(points, { of, widthPx });
        if (!figure) throw new Error("nothing is drawn");
        const svg = renderToStaticMarkup(createElement(FigureDrawing, { figure })).replaceAll("><", ">\n<");
        await expect(`${svg}\n`).toMatchFileSnapshot(`./drawn/reach-${of}-${widthPx}.svg`);
        const inside = figure.marks.every(
          (mark) => mark.kind !== "text" || (mark.x >= 0 && mark.x <= widthPx),
        );
        expect(inside).toBe(true);
      });

  it("has a row for every number of plants and marks the plan in its table", () => {
    const figure = reachFigure(points, { of: "survival", widthPx: 720 });
    expect(figure?.table.rows).toHaveLength(12);
    expect(figure?.table.rows.flat().filter((cell) => cell.endsWith("this plan"))).toEqual(["56, this plan"]);
  });

  it("is not drawn where nothing would show", () => {
    expect(reachFigure([], { of: "survival", widthPx: 720 })).toBeNull();
  });
});
