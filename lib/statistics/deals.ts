import type { Layout } from "./plot-count";
import { numbered } from "./plot-count";
import type { RandomStream } from "./random-stream";
import { insist } from "./requirement";

/** Where a plot lies in its layout. */
export interface DealtPlace {
  variety: string;
  block: string | null;
  row: number | null;
  column: number | null;
}

/** Every way in which a layout could have been dealt. `labels` holds a variety's code for each plot; do not keep it. */
export interface Deals {
  /** Varieties in order of code. */
  varieties: string[];
  /** The deal that was made. */
  dealt: Uint8Array;
  /** How many different deals there are; Infinity where past counting. */
  count: number;
  visitAll(visit: (labels: Uint8Array) => void): void;
  draw(stream: RandomStream): Uint8Array;
}

/**
 * All deals that a layout could have given, each equally likely: the same plots, the varieties dealt again exactly as
 * the design dealt them.
 *
 * `crd` deals all labels over all plots; `rcbd` deals a block's own labels within the block (give the main plot as block
 * for what was dealt within main plots); `latin` takes every Latin square up to order 5, and from order 6 the squares
 * got from this one by exchanging whole rows, whole columns and letters.
 *
 * @param plots every plot that was dealt, also those from which nothing was learnt
 *
 * Edges: a Latin square must be complete as dealt. One plot, or one variety, has one deal.
 * Source: fisher-1935, chapters 2 to 5.
 * Checked: tests/unit/statistics/randomisation.test.ts (counts by formula; 12, 576 and 161,280 squares).
 */
export function dealsOf(plots: readonly DealtPlace[], layout: Layout): Deals {
  insist(plots.length > 0, "dealsOf", "at least one plot", 0);
  const varieties = [...new Set(plots.map((plot) => plot.variety))];
  insist(varieties.length <= 255, "dealsOf", "at most 255 varieties", varieties.length);
  const dealt = Uint8Array.from(numbered(plots.map((plot) => plot.variety)));
  if (layout === "latin") return latinDeals(plots, varieties, dealt);
  const blocks = layout === "rcbd" ? numbered(plots.map((plot) => plot.block)) : plots.map(() => 0);
  const places: number[][] = [];
  blocks.forEach((block, plot) => {
    places[block] ??= [];
    places[block].push(plot);
  });
  const labels = Uint8Array.from(dealt);
  const shuffle = shuffler(places);
  return {
    varieties,
    dealt,
    count: places.reduce((count, place) => count * arrangements(place.map((plot) => dealt[plot])), 1),
    visitAll(visit) {
      for (const place of places) sortLabels(labels, place);
      for (;;) {
        visit(labels);
        // Like an odometer: the first block that has a next arrangement takes it, and those before it start again.
        let block = 0;
        while (block < places.length && !nextArrangement(labels, places[block])) block += 1;
        if (block === places.length) return;
      }
    },
    draw(stream) {
      shuffle(labels, stream);
      return labels;
    },
  };
}

/**
 * Shuffles the labels of every block, each order equally likely. The small draws of a shuffle (one of n places, one of
 * n − 1, …) share large ones, as many at a time as keep a draw a number below 2³².
 */
function shuffler(places: number[][]): (labels: Uint8Array, stream: RandomStream) => void {
  const order = Uint32Array.from(places.flat());
  const starts: number[] = [];
  const lefts: number[] = [];
  let start = 0;
  for (const place of places) {
    for (let left = place.length; left > 1; left -= 1) {
      starts.push(start);
      lefts.push(left);
    }
    start += place.length;
  }
  const draws: { ways: number; until: number }[] = [];
  for (let step = 0; step < lefts.length; ) {
    let ways = 1;
    while (step < lefts.length && ways * lefts[step] <= 4_294_967_296) {
      ways *= lefts[step];
      step += 1;
    }
    draws.push({ ways, until: step });
  }
  const from = Uint32Array.from(starts);
  const among = Uint32Array.from(lefts);
  return (labels, stream) => {
    let step = 0;
    for (let draw = 0; draw < draws.length; draw += 1) {
      let drawn = stream.whole(draws[draw].ways);
      for (; step < draws[draw].until; step += 1) {
        const left = among[step];
        const rest = Math.floor(drawn / left);
        const one = order[from[step] + left - 1];
        const other = order[from[step] + drawn - rest * left];
        const label = labels[one];
        labels[one] = labels[other];
        labels[other] = label;
        drawn = rest;
      }
    }
  };
}

/** In how many different orders labels can be set, some being the same. */
function arrangements(labels: number[]): number {
  const seen = new Map<number, number>();
  let count = 1;
  labels.forEach((label, index) => {
    const times = (seen.get(label) ?? 0) + 1;
    seen.set(label, times);
    count = (count * (index + 1)) / times;
  });
  return Math.round(count);
}

function sortLabels(labels: Uint8Array, place: number[]): void {
  const sorted = place.map((plot) => labels[plot]).sort((a, b) => a - b);
  place.forEach((plot, index) => {
    labels[plot] = sorted[index];
  });
}

/** The next arrangement in dictionary order; false, and the first one again, after the last. */
function nextArrangement(labels: Uint8Array, place: number[]): boolean {
  let turn = place.length - 2;
  while (turn >= 0 && labels[place[turn]] >= labels[place[turn + 1]]) turn -= 1;
  if (turn >= 0) {
    let over = place.length - 1;
    while (labels[place[over]] <= labels[place[turn]]) over -= 1;
    swap(labels, place[turn], place[over]);
  }
  for (let a = turn + 1, b = place.length - 1; a < b; a += 1, b -= 1) swap(labels, place[a], place[b]);
  return turn >= 0;
}

function swap(labels: Uint8Array, a: number, b: number): void {
  const label = labels[a];
  labels[a] = labels[b];
  labels[b] = label;
}

const squaresOfOrder: Record<number, number> = { 1: 1, 2: 2, 3: 12, 4: 576, 5: 161_280 };

function latinDeals(plots: readonly DealtPlace[], varieties: string[], dealt: Uint8Array): Deals {
  const order = varieties.length;
  const rows = numbered(plots.map((plot) => plot.row));
  const columns = numbered(plots.map((plot) => plot.column));
  const cells = new Set([
    ...plots.map((_, plot) => `cell ${rows[plot]} ${columns[plot]}`),
    ...plots.map((_, plot) => `row ${rows[plot]} ${dealt[plot]}`),
    ...plots.map((_, plot) => `column ${columns[plot]} ${dealt[plot]}`),
  ]);
  insist(
    plots.length === order * order && cells.size === 3 * order * order,
    "dealsOf",
    "each variety once in every row and column of a Latin square",
    `${plots.length} plots of ${order} varieties`,
  );
  const plotAt = new Array<number>(order * order);
  plots.forEach((_, plot) => {
    plotAt[rows[plot] * order + columns[plot]] = plot;
  });
  const labels = Uint8Array.from(dealt);
  const visitAll = (visit: (labels: Uint8Array) => void) => {
    const inRow = new Uint32Array(order);
    const inColumn = new Uint32Array(order);
    const fill = (cell: number): void => {
      if (cell === order * order) {
        visit(labels);
        return;
      }
      const [row, column] = [Math.floor(cell / order), cell % order];
      for (let letter = 0; letter < order; letter += 1) {
        const bit = 1 << letter;
        if ((inRow[row] | inColumn[column]) & bit) continue;
        inRow[row] |= bit;
        inColumn[column] |= bit;
        labels[plotAt[cell]] = letter;
        fill(cell + 1);
        inRow[row] &= ~bit;
        inColumn[column] &= ~bit;
      }
    };
    fill(0);
  };
  return {
    varieties,
    dealt,
    count: squaresOfOrder[order] ?? Number.POSITIVE_INFINITY,
    visitAll,
    draw(stream) {
      const [row, column, letter] = [0, 0, 0].map(() => shuffled(order, stream));
      for (let cell = 0; cell < order * order; cell += 1) {
        const from = row[Math.floor(cell / order)] * order + column[cell % order];
        labels[plotAt[cell]] = letter[dealt[plotAt[from]]];
      }
      return labels;
    },
  };
}

function shuffled(size: number, stream: RandomStream): number[] {
  const order = Array.from({ length: size }, (_, index) => index);
  for (let left = size - 1; left > 0; left -= 1) {
    const other = stream.whole(left + 1);
    [order[left], order[other]] = [order[other], order[left]];
  }
  return order;
}
