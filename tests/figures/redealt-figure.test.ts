import { describe, expect, it } from "vitest";
import { redealtFigure } from "@/lib/figure/redealt-figure";

const redealt = {
  deals: 36,
  isAll: true,
  bins: [
    { from: 0, to: 1, deals: 20 },
    { from: 1, to: 2, deals: 12 },
    { from: 2, to: 3, deals: 4 },
  ],
  seen: [
    { variety: "Pennick", reference: "Hollin", statistic: 0.4 },
    { variety: "Carrow", reference: "Hollin", statistic: 2 },
  ],
};

describe("the deals drawn", () => {
  for (const widthPx of [336, 720])
    it(`has a bar a bin and a line a comparison inside its frame at ${widthPx} px`, () => {
      const figure = redealtFigure(redealt, { widthPx });
      const bars = figure?.marks.filter((mark) => mark.kind === "rect") ?? [];
      expect(bars.map((bar) => Math.round((bar.height / bars[0].height) * 20))).toEqual([20, 12, 4]);
      const lines =
        figure?.marks.flatMap((mark) => (mark.kind === "line" && mark.dash ? [mark.x1] : [])) ?? [];
      expect(lines).toHaveLength(2);
      for (const x of lines) expect(x).toBeLessThanOrEqual(widthPx);
    });

  it("counts for a reader how many deals lie further right", () => {
    expect(redealtFigure(redealt, { widthPx: 720 })?.table.rows).toEqual([
      ["Carrow and Hollin", "2.00", "4"],
      ["Pennick and Hollin", "0.40", "16"],
    ]);
  });
});
