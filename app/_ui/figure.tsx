import type { ReactElement } from "react";
import type { Figure, Mark, RectMark, Tone } from "@/lib/figure/figure";
import { toneColours } from "@/lib/figure/palette";
import { symbolPoints } from "@/lib/figure/symbol-points";
import { DataTable } from "./data-table";
import styles from "./figure.module.css";
import { Working } from "./working";

const wideWidthPx = 720;
const narrowWidthPx = 336;

/**
 * A figure with its table beneath. It is drawn twice, for a page and for a phone, and the style sheet shows one of the
 * two; the table is written once, open or folded away under some words.
 */
export function FigureWithTable({
  draw,
  tableUnder,
}: {
  draw: (widthPx: number) => Figure | null;
  tableUnder?: string;
}): ReactElement | null {
  const wide = draw(wideWidthPx);
  const narrow = draw(narrowWidthPx);
  if (!wide || !narrow) return null;
  return (
    <figure className={styles.figure}>
      <figcaption className={styles.title}>{wide.title}</figcaption>
      <div className={styles.wide}>
        <FigureDrawing figure={wide} />
      </div>
      <div className={styles.narrow}>
        <FigureDrawing figure={{ ...narrow, id: `${narrow.id}-narrow` }} />
      </div>
      {tableUnder === undefined ? (
        <FigureTable figure={wide} />
      ) : (
        <Working summary={tableUnder}>
          <FigureTable figure={wide} />
        </Working>
      )}
    </figure>
  );
}

/** One figure as plain SVG; its title and description are what a screen reader says. */
export function FigureDrawing({ figure }: { figure: Figure }): ReactElement {
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      viewBox={`0 0 ${figure.widthPx} ${Math.ceil(figure.heightPx)}`}
      width={figure.widthPx}
      height={Math.ceil(figure.heightPx)}
      role="img"
      aria-labelledby={`${figure.id}-title ${figure.id}-desc`}
      className={styles.drawing}
    >
      <title id={`${figure.id}-title`}>{figure.title}</title>
      <desc id={`${figure.id}-desc`}>{figure.description}</desc>
      <HatchPatterns figure={figure} />
      {figure.marks.map((mark, position) => (
        <DrawnMark key={position} mark={mark} figureId={figure.id} />
      ))}
    </svg>
  );
}

/** The figures of a figure as a table. */
export function FigureTable({ figure }: { figure: Figure }): ReactElement {
  return <DataTable {...figure.table} />;
}

type Fill = NonNullable<RectMark["fill"]>;

function patternId(figureId: string, fill: Fill): string {
  return `${figureId}-${fill.tone}-${fill.hatch}`;
}

const hatchLines: Record<Exclude<Fill["hatch"], "solid" | "dots">, string> = {
  right: "M-2,2 L2,-2 M0,8 L8,0 M6,10 L10,6",
  left: "M-2,6 L2,10 M0,0 L8,8 M6,-2 L10,2",
  level: "M0,2 L8,2 M0,6 L8,6",
  upright: "M2,0 L2,8 M6,0 L6,8",
  crossed: "M0,4 L8,4 M4,0 L4,8",
};

function HatchPatterns({ figure }: { figure: Figure }): ReactElement | null {
  const fills = new Map<string, Fill>();
  for (const mark of figure.marks)
    if (mark.kind === "rect" && mark.fill && mark.fill.hatch !== "solid")
      fills.set(patternId(figure.id, mark.fill), mark.fill);
  if (fills.size === 0) return null;
  return (
    <defs>
      {[...fills].map(([id, fill]) => (
        <pattern key={id} id={id} width={8} height={8} patternUnits="userSpaceOnUse">
          <rect width={8} height={8} fill={toneColours.paper} />
          {fill.hatch === "dots" ? (
            <>
              <circle cx={2} cy={2} r={1.7} fill={toneColours[fill.tone]} />
              <circle cx={6} cy={6} r={1.7} fill={toneColours[fill.tone]} />
            </>
          ) : (
            <path
              d={hatchLines[fill.hatch as keyof typeof hatchLines]}
              stroke={toneColours[fill.tone]}
              strokeWidth={2}
              fill="none"
            />
          )}
        </pattern>
      ))}
    </defs>
  );
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}

function dashes(dash: readonly number[] | null): string | undefined {
  return dash ? dash.join(" ") : undefined;
}

function strokeOf(stroke: { tone: Tone; weight: number; dash: readonly number[] | null } | null) {
  return stroke
    ? {
        stroke: toneColours[stroke.tone],
        strokeWidth: stroke.weight,
        strokeDasharray: dashes(stroke.dash),
      }
    : { stroke: "none" };
}

function DrawnMark({ mark, figureId }: { mark: Mark; figureId: string }): ReactElement {
  switch (mark.kind) {
    case "line":
      return (
        <line
          x1={round(mark.x1)}
          y1={round(mark.y1)}
          x2={round(mark.x2)}
          y2={round(mark.y2)}
          stroke={toneColours[mark.tone]}
          strokeWidth={mark.weight}
          strokeDasharray={dashes(mark.dash)}
        />
      );
    case "rect":
      return (
        <rect
          x={round(mark.x)}
          y={round(mark.y)}
          width={round(mark.width)}
          height={round(mark.height)}
          fill={
            mark.fill
              ? mark.fill.hatch === "solid"
                ? toneColours[mark.fill.tone]
                : `url(#${patternId(figureId, mark.fill)})`
              : "none"
          }
          fillOpacity={mark.fill && mark.fill.opacity < 1 ? round(mark.fill.opacity) : undefined}
          {...strokeOf(mark.stroke)}
        />
      );
    case "path":
      return (
        <path
          d={`M${mark.points.map(([x, y]) => `${round(x)},${round(y)}`).join("L")}${mark.closed ? "Z" : ""}`}
          fill={mark.fill ? toneColours[mark.fill.tone] : "none"}
          fillOpacity={mark.fill && mark.fill.opacity < 1 ? mark.fill.opacity : undefined}
          {...strokeOf(mark.stroke)}
        />
      );
    case "symbol": {
      const look = mark.filled
        ? { fill: toneColours[mark.tone], stroke: toneColours.paper, strokeWidth: 1 }
        : { fill: toneColours.paper, stroke: toneColours[mark.tone], strokeWidth: 2 };
      const points = symbolPoints(mark);
      return points ? (
        <polygon points={points.map(([x, y]) => `${round(x)},${round(y)}`).join(" ")} {...look} />
      ) : (
        <circle cx={round(mark.x)} cy={round(mark.y)} r={mark.sizePx / 2} {...look} />
      );
    }
    case "text":
      return (
        <text
          x={round(mark.x)}
          y={round(mark.y)}
          textAnchor={mark.anchor === "start" ? undefined : mark.anchor}
          fontSize={mark.sizePx}
          fontWeight={mark.bold ? 700 : undefined}
          fill={toneColours[mark.tone]}
          {...(mark.halo
            ? {
                stroke: toneColours.paper,
                strokeWidth: 4,
                strokeLinejoin: "round" as const,
                paintOrder: "stroke",
              }
            : {})}
        >
          {mark.text}
        </text>
      );
  }
}
