import { describe, expect, it } from "vitest";
import type { Figure } from "@/lib/figure/figure";
import { rect, symbol, text } from "@/lib/figure/marks";
import { svgFile } from "@/lib/figure/svg-file";

const figure: Figure = {
  id: "example",
  title: 'Pennick & "Hollin" <both>',
  description: "Two plots.",
  widthPx: 100,
  heightPx: 39.2,
  marks: [
    rect(0, 0, 50, 20, { fill: { tone: "blue", opacity: 1, hatch: "right" }, stroke: null }),
    symbol(60, 10, { shape: "circle", tone: "ink" }),
    text(2, 30, "a < b\u0007", { halo: true }),
  ],
  table: { caption: "", columns: [], rows: [] },
};

describe("a figure as a file", () => {
  const file = svgFile(figure, "AAAA");

  it("stands alone: daylight colours, paper behind and its type inside", () => {
    expect(file).not.toContain("var(");
    expect(file).toContain('<rect width="100%" height="100%" fill="#FCFBF7"/>');
    expect(file).toContain("src:url(data:font/woff2;base64,AAAA)");
    expect(file).toContain('viewBox="0 0 100 72"');
  });

  it("draws every mark, with the patterns it needs", () => {
    expect(file).toContain(
      '<pattern id="example-blue-right" width="8" height="8" patternUnits="userSpaceOnUse">',
    );
    expect(file).toContain('fill="url(#example-blue-right)"');
    expect(file).toContain(
      '<circle cx="60" cy="10" r="5" fill="#16211C" stroke="#FCFBF7" stroke-width="1"/>',
    );
  });

  it("lets no name or word break it", () => {
    expect(file).toContain("<title>Pennick &amp; &quot;Hollin&quot; &lt;both&gt;</title>");
    expect(file).toContain('stroke-linejoin="round" paint-order="stroke">a &lt; b</text>');
  });
});
