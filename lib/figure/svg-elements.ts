import type { Figure, LineMark, Mark, RectMark, Tone } from "./figure";
import { toneColours } from "./palette";
import { symbolPoints } from "./symbol-points";

/** An element of SVG as plain data, attributes by their names in SVG; what is undefined is not written. */
export interface SvgElement {
  tag: string;
  attributes: Record<string, string | number | undefined>;
  text?: string;
  children?: SvgElement[];
}

type Fill = NonNullable<RectMark["fill"]>;

const hatchLines: Record<Exclude<Fill["hatch"], "solid" | "dots">, string> = {
  right: "M-2,2 L2,-2 M0,8 L8,0 M6,10 L10,6",
  left: "M-2,6 L2,10 M0,0 L8,8 M6,-2 L10,2",
  level: "M0,2 L8,2 M0,6 L8,6",
  upright: "M2,0 L2,8 M6,0 L6,8",
  crossed: "M0,4 L8,4 M4,0 L4,8",
};

/** A figure's patterns and marks, in the order in which they are drawn: the one path for screen, print and file. */
export function svgElements(figure: Figure): SvgElement[] {
  return [...hatchPatterns(figure), ...runsOf(figure.marks).map((run) => drawnRun(run, figure.id))];
}

/** Lines that follow each other and look alike are drawn as one element: a page of figures has some hundred of them. */
function runsOf(marks: readonly Mark[]): [Mark, ...LineMark[]][] {
  const runs: [Mark, ...LineMark[]][] = [];
  for (const mark of marks) {
    const last = runs.at(-1);
    if (last && mark.kind === "line" && looksLike(mark, last[0])) last.push(mark);
    else runs.push([mark]);
  }
  return runs;
}

function looksLike(line: LineMark, mark: Mark): boolean {
  return (
    mark.kind === "line" &&
    line.tone === mark.tone &&
    line.weight === mark.weight &&
    dashes(line.dash) === dashes(mark.dash)
  );
}

function drawnRun([first, ...more]: [Mark, ...LineMark[]], figureId: string): SvgElement {
  if (first.kind !== "line" || more.length === 0) return drawn(first, figureId);
  const d = [first, ...more]
    .map(({ x1, y1, x2, y2 }) => `M${round(x1)},${round(y1)}L${round(x2)},${round(y2)}`)
    .join("");
  return { tag: "path", attributes: { d, fill: "none", ...strokeOf(first) } };
}

function patternId(figureId: string, fill: Fill): string {
  return `${figureId}-${fill.tone}-${fill.hatch}`;
}

function hatchPatterns(figure: Figure): SvgElement[] {
  const fills = new Map<string, Fill>();
  for (const mark of figure.marks)
    if (mark.kind === "rect" && mark.fill && mark.fill.hatch !== "solid")
      fills.set(patternId(figure.id, mark.fill), mark.fill);
  if (fills.size === 0) return [];
  const dot = (cx: number, cy: number, fill: string): SvgElement => ({
    tag: "circle",
    attributes: { cx, cy, r: 1.7, fill },
  });
  const patterns = [...fills].map(([id, fill]): SvgElement => {
    const colour = toneColours[fill.tone];
    const lines: SvgElement[] =
      fill.hatch === "dots"
        ? [dot(2, 2, colour), dot(6, 6, colour)]
        : [
            {
              tag: "path",
              attributes: {
                d: hatchLines[fill.hatch as keyof typeof hatchLines],
                stroke: colour,
                "stroke-width": 2,
                fill: "none",
              },
            },
          ];
    const paper = { tag: "rect", attributes: { width: 8, height: 8, fill: toneColours.paper } };
    const attributes = { id, width: 8, height: 8, patternUnits: "userSpaceOnUse" };
    return { tag: "pattern", attributes, children: [paper, ...lines] };
  });
  return [{ tag: "defs", attributes: {}, children: patterns }];
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}

function dashes(dash: readonly number[] | null): string | undefined {
  return dash ? dash.join(" ") : undefined;
}

function strokeOf(
  stroke: { tone: Tone; weight: number; dash: readonly number[] | null } | null,
): SvgElement["attributes"] {
  return stroke
    ? {
        stroke: toneColours[stroke.tone],
        "stroke-width": stroke.weight,
        "stroke-dasharray": dashes(stroke.dash),
      }
    : { stroke: "none" };
}

function pointsOf(points: readonly (readonly [number, number])[], between: string): string {
  return points.map(([x, y]) => `${round(x)},${round(y)}`).join(between);
}

function drawn(mark: Mark, figureId: string): SvgElement {
  switch (mark.kind) {
    case "line":
      return {
        tag: "line",
        attributes: {
          x1: round(mark.x1),
          y1: round(mark.y1),
          x2: round(mark.x2),
          y2: round(mark.y2),
          ...strokeOf(mark),
        },
      };
    case "rect":
      return {
        tag: "rect",
        attributes: {
          x: round(mark.x),
          y: round(mark.y),
          width: round(mark.width),
          height: round(mark.height),
          fill: mark.fill
            ? mark.fill.hatch === "solid"
              ? toneColours[mark.fill.tone]
              : `url(#${patternId(figureId, mark.fill)})`
            : "none",
          "fill-opacity": mark.fill && mark.fill.opacity < 1 ? round(mark.fill.opacity) : undefined,
          ...strokeOf(mark.stroke),
        },
      };
    case "path":
      return {
        tag: "path",
        attributes: {
          d: `M${pointsOf(mark.points, "L")}${mark.closed ? "Z" : ""}`,
          fill: mark.fill ? toneColours[mark.fill.tone] : "none",
          "fill-opacity": mark.fill && mark.fill.opacity < 1 ? mark.fill.opacity : undefined,
          ...strokeOf(mark.stroke),
        },
      };
    case "symbol": {
      const look = mark.filled
        ? { fill: toneColours[mark.tone], stroke: toneColours.paper, "stroke-width": 1 }
        : { fill: toneColours.paper, stroke: toneColours[mark.tone], "stroke-width": 2 };
      const points = symbolPoints(mark);
      return points
        ? { tag: "polygon", attributes: { points: pointsOf(points, " "), ...look } }
        : {
            tag: "circle",
            attributes: { cx: round(mark.x), cy: round(mark.y), r: mark.sizePx / 2, ...look },
          };
    }
    case "text":
      return {
        tag: "text",
        attributes: {
          x: round(mark.x),
          y: round(mark.y),
          "text-anchor": mark.anchor === "start" ? undefined : mark.anchor,
          "font-size": mark.sizePx,
          "font-weight": mark.bold ? 700 : undefined,
          fill: toneColours[mark.tone],
          ...(mark.halo
            ? {
                stroke: toneColours.paper,
                "stroke-width": 4,
                "stroke-linejoin": "round",
                "paint-order": "stroke",
              }
            : {}),
        },
        text: mark.text,
      };
  }
}
