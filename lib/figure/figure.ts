/** The colours that a figure may use, by what they mean; `palette.ts` gives each its value. */
export type Tone = "ink" | "soft" | "rule" | "paper" | "action" | "warning" | "good" | SeriesTone;

/** The eight colours of Okabe and Ito, which the common colour-blindnesses tell apart. */
export type SeriesTone = "orange" | "sky" | "green" | "yellow" | "blue" | "vermillion" | "purple" | "black";

export type Shape = "circle" | "square" | "diamond" | "triangle" | "triangle-down" | "cross";

/** How a surface is filled so that it is told from its neighbours without colour. */
export type Hatch = "solid" | "right" | "left" | "level" | "upright" | "dots" | "crossed";

/** Lengths of dash and gap in px; null is an unbroken line. */
export type Dash = readonly number[] | null;

export interface LineMark {
  kind: "line";
  x1: number;
  y1: number;
  x2: number;
  y2: number;
  tone: Tone;
  weight: number;
  dash: Dash;
}

export interface RectMark {
  kind: "rect";
  x: number;
  y: number;
  width: number;
  height: number;
  fill: { tone: Tone; opacity: number; hatch: Hatch } | null;
  stroke: { tone: Tone; weight: number; dash: Dash } | null;
}

/** A line through points, or the surface that they enclose. */
export interface PathMark {
  kind: "path";
  points: readonly (readonly [number, number])[];
  closed: boolean;
  fill: { tone: Tone; opacity: number } | null;
  stroke: { tone: Tone; weight: number; dash: Dash } | null;
}

export interface SymbolMark {
  kind: "symbol";
  x: number;
  y: number;
  shape: Shape;
  sizePx: number;
  tone: Tone;
  filled: boolean;
}

export interface TextMark {
  kind: "text";
  x: number;
  y: number;
  text: string;
  anchor: "start" | "middle" | "end";
  sizePx: number;
  tone: Tone;
  bold: boolean;
  /** A rim of paper round the letters, for text that stands on a line or a hatched surface. */
  halo: boolean;
}

export type Mark = LineMark | RectMark | PathMark | SymbolMark | TextMark;

/** The table beneath a figure: the same figures as text, for reading, print and screen readers. */
export interface FigureTable {
  caption: string;
  columns: { heading: string; numeric: boolean }[];
  /** The first cell of a row is its heading. */
  rows: string[][];
}

/** A drawing as plain data: nothing here knows React or a browser. Later marks lie on top of earlier ones. */
export interface Figure {
  /** Unique on its page; letters, digits and hyphens. */
  id: string;
  title: string;
  /** What a reader who cannot see the figure should know of it, in a sentence or two. */
  description: string;
  widthPx: number;
  heightPx: number;
  marks: Mark[];
  table: FigureTable;
}
