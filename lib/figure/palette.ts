import type { Dash, Hatch, SeriesTone, Shape, Tone } from "./figure";

/**
 * The value of each tone: the page's own variable where the page has one (so that the dark variant follows), with the
 * daylight value behind it for print and for a figure that stands alone.
 *
 * Source of the series: Okabe M, Ito K (2008), Color Universal Design, the set of eight colours barrier-free to
 * colour-blind people.
 */
export const toneColours: Record<Tone, string> = {
  ink: "var(--ink, #16211C)",
  soft: "var(--soft-ink, #4F5952)",
  rule: "var(--rule, #D9D6CB)",
  paper: "var(--paper, #FCFBF7)",
  action: "var(--action, #1C4F7C)",
  warning: "var(--warning, #8A3B12)",
  good: "var(--good, #2B6138)",
  orange: "#E69F00",
  sky: "#56B4E9",
  green: "#009E73",
  yellow: "#F0E442",
  blue: "#0072B2",
  vermillion: "#D55E00",
  purple: "#CC79A7",
  black: "var(--ink, #16211C)",
};

export interface SeriesLook {
  tone: SeriesTone;
  shape: Shape;
  dash: Dash;
  hatch: Hatch;
}

const tones: readonly SeriesTone[] = ["blue", "orange", "green", "vermillion", "sky", "purple", "black"];
const shapes: readonly Shape[] = ["circle", "square", "triangle", "diamond", "triangle-down", "cross"];
const dashes: readonly Dash[] = [null, [7, 4], [2, 3], [10, 3, 2, 3], [4, 2]];
const hatches: readonly Hatch[] = ["right", "dots", "level", "left", "upright", "crossed"];

/**
 * The look of a series by its place in a fixed order. Colour, shape, dash and hatch turn over at different lengths, so
 * that no two of the first 42 are alike in both colour and hatch.
 */
export function seriesLook(position: number): SeriesLook {
  return {
    tone: tones[position % tones.length],
    shape: shapes[position % shapes.length],
    dash: dashes[position % dashes.length],
    hatch: hatches[position % hatches.length],
  };
}
