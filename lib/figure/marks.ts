import type { Dash, LineMark, PathMark, RectMark, SymbolMark, TextMark, Tone } from "./figure";

/** Sizes of letters on figures, in px: as in the text beside them, and one step down for axes. */
export const textSizePx = { body: 15, small: 13 } as const;

/** About how wide a text is. The type's letters average 0.53 of its size; a margin is better than a collision. */
export function textWidthPx(text: string, sizePx: number): number {
  return text.length * sizePx * 0.54;
}

/** A straight line. */
export function line(
  from: readonly [number, number],
  to: readonly [number, number],
  look: { tone: Tone; weight?: number; dash?: Dash },
): LineMark {
  return {
    kind: "line",
    x1: from[0],
    y1: from[1],
    x2: to[0],
    y2: to[1],
    tone: look.tone,
    weight: look.weight ?? 1,
    dash: look.dash ?? null,
  };
}

/** A text; `y` is its base line. */
export function text(
  x: number,
  y: number,
  words: string,
  look: Partial<Omit<TextMark, "kind" | "x" | "y" | "text">> = {},
): TextMark {
  return {
    kind: "text",
    x,
    y,
    text: words,
    anchor: look.anchor ?? "start",
    sizePx: look.sizePx ?? textSizePx.body,
    tone: look.tone ?? "ink",
    bold: look.bold ?? false,
    halo: look.halo ?? false,
  };
}

/** A rectangle. */
export function rect(
  x: number,
  y: number,
  width: number,
  height: number,
  look: Pick<RectMark, "fill" | "stroke">,
): RectMark {
  return { kind: "rect", x, y, width, height, ...look };
}

/** An open line through points. */
export function path(
  points: readonly (readonly [number, number])[],
  look: { tone: Tone; weight?: number; dash?: Dash },
): PathMark {
  return {
    kind: "path",
    points,
    closed: false,
    fill: null,
    stroke: { tone: look.tone, weight: look.weight ?? 1.5, dash: look.dash ?? null },
  };
}

/** A filled surface without a rim. */
export function surface(
  points: readonly (readonly [number, number])[],
  look: { tone: Tone; opacity: number },
): PathMark {
  return { kind: "path", points, closed: true, fill: look, stroke: null };
}

/** A point's mark. */
export function symbol(
  x: number,
  y: number,
  look: Pick<SymbolMark, "shape" | "tone"> & Partial<Pick<SymbolMark, "sizePx" | "filled">>,
): SymbolMark {
  return {
    kind: "symbol",
    x,
    y,
    shape: look.shape,
    tone: look.tone,
    sizePx: look.sizePx ?? 10,
    filled: look.filled ?? true,
  };
}

/**
 * Words over as many lines as their width asks for, broken between words, and within one only where it is wider than the
 * line by itself. Nothing is left out.
 */
export function wrapped(words: string, widthPx: number, sizePx: number): string[] {
  const fits = (some: string) => textWidthPx(some, sizePx) <= widthPx;
  const lines: string[] = [""];
  for (const word of words.split(" ")) {
    const last = lines[lines.length - 1];
    const longer = last === "" ? word : `${last} ${word}`;
    if (fits(longer)) lines[lines.length - 1] = longer;
    else lines.push(...inPieces(word, fits));
  }
  return lines[0] === "" && lines.length > 1 ? lines.slice(1) : lines;
}

function inPieces(word: string, fits: (some: string) => boolean): string[] {
  const pieces = [""];
  for (const letter of word) {
    const longer = pieces[pieces.length - 1] + letter;
    if (longer.length === 1 || fits(longer)) pieces[pieces.length - 1] = longer;
    else pieces.push(letter);
  }
  return pieces;
}
