import type { SymbolMark } from "./figure";

/** The corners of a point's mark; null for a circle, which has none. Areas are about alike from shape to shape. */
export function symbolPoints(
  mark: Pick<SymbolMark, "x" | "y" | "shape" | "sizePx">,
): [number, number][] | null {
  const { x, y } = mark;
  const half = mark.sizePx / 2;
  switch (mark.shape) {
    case "circle":
      return null;
    case "square": {
      const side = half * 0.9;
      return [
        [x - side, y - side],
        [x + side, y - side],
        [x + side, y + side],
        [x - side, y + side],
      ];
    }
    case "diamond": {
      const reach = half * 1.2;
      return [
        [x, y - reach],
        [x + reach, y],
        [x, y + reach],
        [x - reach, y],
      ];
    }
    case "triangle":
    case "triangle-down": {
      const up = mark.shape === "triangle" ? 1 : -1;
      const reach = half * 1.2;
      return [
        [x, y - up * reach],
        [x + reach, y + up * half * 0.9],
        [x - reach, y + up * half * 0.9],
      ];
    }
    case "cross": {
      const arm = half * 0.36;
      return [
        [x - arm, y - half],
        [x + arm, y - half],
        [x + arm, y - arm],
        [x + half, y - arm],
        [x + half, y + arm],
        [x + arm, y + arm],
        [x + arm, y + half],
        [x - arm, y + half],
        [x - arm, y + arm],
        [x - half, y + arm],
        [x - half, y - arm],
        [x - arm, y - arm],
      ];
    }
  }
}
