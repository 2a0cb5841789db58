import { createElement } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import { FigureDrawing } from "@/app/_ui/figure";
import { manyWinters } from "@/lib/analysis/many-winters";
import type { Figure } from "@/lib/figure/figure";
import { wintersFigure } from "@/lib/figure/winters-figure";
import { inWinter } from "../unit/analysis/invented-winters";

const [finding] = manyWinters("Hollin", [
  inWinter("2024/25", { estimate: 0.75, effectivePlants: 16 }),
  inWinter("2025/26", { estimate: 0.3, effectivePlants: 9 }),
  inWinter("2026/27", { estimate: 0.9, share: { state: "so far" } }),
]);

describe("the figure of winters", () => {
  it.each([720, 336])("is drawn as last looked at, %i px wide", async (widthPx) => {
    const figure = wintersFigure(finding, { widthPx }) as Figure;
    const svg = `${renderToStaticMarkup(createElement(FigureDrawing, { figure })).replaceAll("><", ">\n<")}\n`;
    await expect(svg).toMatchFileSnapshot(`./drawn/winters-${widthPx}.svg`);
  });

  it("holds the same figures as text whatever its width, with a row for every winter, all together and another", () => {
    const wide = wintersFigure(finding, { widthPx: 720 }) as Figure;
    expect(wide.table).toEqual(wintersFigure(finding, { widthPx: 336 })?.table);
    expect(wide.table.rows.map((row) => row[0])).toEqual([
      "2024/25",
      "2025/26",
      "2026/27",
      "together",
      "another winter",
    ]);
    for (const row of wide.table.rows) expect(row).toHaveLength(wide.table.columns.length);
  });

  it("draws nothing where no plant was counted", () => {
    const [none] = manyWinters("Hollin", [
      inWinter("2025/26", { share: { state: "no plants", share: null, difference: null } }),
    ]);
    expect(wintersFigure(none, { widthPx: 720 })).toBeNull();
  });
});
