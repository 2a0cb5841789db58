import { type Fault, type Outcome, refusal, success } from "@/lib/words/fault";
import { sayLengthMm } from "@/lib/words/length";
import type { Design, Gradient, PathSide } from "@/lib/words/trial";
import { incompleteBlocks } from "./incomplete-blocks";

export interface FitRequest {
  design: Design;
  /** How many varieties, checks among them. */
  entries: number;
  /** Blocks (replicates where blocks are incomplete), or plots of each variety where there are none. */
  blocks: number;
  plantsPerPlot: number;
  /** Along a row. */
  betweenPlantsMm: number;
  /** From row to row. */
  betweenRowsMm: number;
  /** In walking order. */
  beds: FitBed[];
  /** Split plot: how many covers, or sowing dates, are dealt to main plots. */
  levels?: number;
  /** Augmented: how many of the varieties stand in every block. */
  checks?: number;
  /** Incomplete blocks: the most plots in a block. */
  plotsPerBlock?: number;
  /** Which way the ground changes: blocks lie one after another that way. Along the bed where nothing is said. */
  gradient?: Gradient;
  /** Where the path runs: the first plot of every line lies on that side. At the left hand where nothing is said. */
  pathSide?: PathSide;
  /** Rows of guard plants all round, at the crop's own spacing. */
  guardRows?: number;
}

export interface FitBed {
  id: string;
  widthMm: number;
  lengthMm: number;
  /** The size of a pot along the row, where the bed is a row of pots and each pot a plot. */
  potMm?: number;
  /** Stretches of the bed, from side to side, that something fixed takes up; measured from the path end. */
  takenUp?: readonly { fromMm: number; toMm: number }[];
}

/** A plot's place, before a variety is dealt to it; measured from the bed's path-side left corner. */
export interface Cell {
  bedId: string;
  /** The run of plots that it belongs to, from 1: what the design deals to at one go. Null where there are none. */
  block: number | null;
  /** Line along the bed and place across it from the path, both from 1 in each bed. */
  row: number;
  column: number;
  xMm: number;
  yMm: number;
}

export interface BedPlan {
  /** A plot's size: across the bed and along it. Every plot of a trial has the same. */
  widthMm: number;
  lengthMm: number;
  /** Rows of plants in a plot; rows run along the bed. */
  plantRows: number;
  /** Run by run, and in each as one walks: line by line, across from the path. */
  cells: Cell[];
}

/** What the design deals at one go, and what of it stays in one bed. */
interface Runs {
  /** The most plots in a run. */
  plots: number;
  /** Runs that lie one after another in one bed. */
  together: number;
  /** How many such lots. */
  lots: number;
  /** A run lies in one line: the columns of a Latin square must be columns. */
  inOneLine: boolean;
}

/** Null for a completely random layout, whose plots lie anywhere. */
function runsOf(request: FitRequest): Runs | null {
  const { design, entries, blocks, levels = 1, checks = 0, plotsPerBlock = entries } = request;
  const apart = { together: 1, lots: blocks, inOneLine: false };
  if (design === "crd") return null;
  if (design === "latin") return { plots: entries, together: entries, lots: 1, inOneLine: true };
  if (design === "split-plot") return { ...apart, plots: entries, together: levels };
  if (design === "augmented") return { ...apart, plots: checks + Math.ceil((entries - checks) / blocks) };
  if (design === "incomplete-blocks") {
    const shape = incompleteBlocks(entries, plotsPerBlock);
    if (shape) return { ...apart, plots: shape.plotsPerBlock, together: shape.blocksPerReplicate };
  }
  return { ...apart, plots: entries };
}

/** A stretch of bed that is free for plots. */
interface Stretch {
  bedId: string;
  xMm: number;
  yMm: number;
  widthMm: number;
  lengthMm: number;
}

/** What is left of the beds for plots, inside the guard plants and between what is fixed in the way. */
function stretchesOf({ beds, guardRows = 0, betweenPlantsMm, betweenRowsMm }: FitRequest): Stretch[] {
  const side = guardRows * betweenRowsMm;
  const end = guardRows * betweenPlantsMm;
  return beds.flatMap((bed) => {
    const free: Stretch[] = [];
    let from = end;
    const until = bed.lengthMm - end;
    const close = (to: number) => {
      if (to > from)
        free.push({
          bedId: bed.id,
          xMm: side,
          yMm: from,
          widthMm: bed.widthMm - 2 * side,
          lengthMm: to - from,
        });
    };
    for (const { fromMm, toMm } of [...(bed.takenUp ?? [])].sort((a, b) => a.fromMm - b.fromMm)) {
      close(Math.min(until, fromMm));
      from = Math.max(from, toMm);
    }
    close(until);
    return free;
  });
}

/** How one shape of plot lies in the beds. */
interface Shape {
  plantRows: number;
  widthMm: number;
  lengthMm: number;
  isFull: boolean;
  stretches: Stretch[];
  /** Per stretch: lines in a run (for a completely random layout, in the stretch), plots in a line, how many lots (plots) fit. */
  holds: { lines: number; inLine: number; fits: number }[];
  fits: boolean;
  /** Ground taken, with places left empty in it. */
  groundMm2: number;
  shares: number[];
}

/** Deals so many things out over beds one by one, no bed over what it holds; null when they hold too little. */
function spread(count: number, holds: readonly number[]): number[] | null {
  const shares = holds.map(() => 0);
  for (let left = count; left > 0; ) {
    const open = holds.flatMap((most, bed) => (shares[bed] < most ? [bed] : []));
    if (open.length === 0) return null;
    for (const bed of open.slice(0, left)) shares[bed] += 1;
    left -= Math.min(left, open.length);
  }
  return shares;
}

/** Whether lines of plots lie along the bed, one beside another, instead of across it, one after another. */
function linesLieAlong(request: FitRequest): boolean {
  return request.gradient === "across" && request.design !== "crd";
}

interface Pot {
  widthMm: number;
  lengthMm: number;
}

/** The pot that is a plot, where the beds are rows of pots. */
function potOf({ beds }: FitRequest): Pot | null {
  const [{ potMm, widthMm }] = beds;
  return potMm === undefined ? null : { widthMm, lengthMm: potMm };
}

/** Whether rows of plants stand inside a pot; a single plant always does. */
function goesIntoPot(
  { betweenPlantsMm, betweenRowsMm }: FitRequest,
  pot: Pot,
  rows: number,
  inRow: number,
): boolean {
  return (rows - 1) * betweenRowsMm < pot.widthMm && (inRow - 1) * betweenPlantsMm < pot.lengthMm;
}

function shapeOf(request: FitRequest, plantRows: number): Shape | null {
  const { plantsPerPlot, betweenPlantsMm, betweenRowsMm } = request;
  const inRow = Math.ceil(plantsPerPlot / plantRows);
  if ((plantRows - 1) * inRow >= plantsPerPlot) return null;
  const pot = potOf(request);
  if (pot && !goesIntoPot(request, pot, plantRows, inRow)) return null;
  const widthMm = pot?.widthMm ?? plantRows * betweenRowsMm;
  const lengthMm = pot?.lengthMm ?? inRow * betweenPlantsMm;
  const runs = runsOf(request);
  const along = linesLieAlong(request);
  const stretches = stretchesOf(request);
  const holds = stretches.map((stretch) => {
    const across = Math.max(0, Math.floor(stretch.widthMm / widthMm));
    const down = Math.max(0, Math.floor(stretch.lengthMm / lengthMm));
    const [most, linesThatFit] = along ? [down, across] : [across, down];
    if (most === 0) return { lines: 0, inLine: 0, fits: 0 };
    if (!runs) return { lines: linesThatFit, inLine: most, fits: linesThatFit * most };
    const lines = Math.ceil(runs.plots / most);
    if (runs.inOneLine && lines > 1) return { lines: 0, inLine: 0, fits: 0 };
    return {
      lines,
      inLine: Math.ceil(runs.plots / lines),
      fits: Math.floor(linesThatFit / (lines * runs.together)),
    };
  });
  const shares = spread(
    runs ? runs.lots : request.blocks * request.entries,
    holds.map((hold) => hold.fits),
  );
  const groundMm2 = stretches.reduce((sum, stretch, index) => {
    const { lines, inLine } = holds[index];
    const share = shares?.[index] ?? 0;
    const linesTaken = runs ? share * lines * runs.together : Math.ceil(share / Math.max(1, inLine));
    return sum + linesTaken * (along ? stretch.lengthMm * widthMm : stretch.widthMm * lengthMm);
  }, 0);
  return {
    plantRows,
    widthMm,
    lengthMm,
    isFull: plantRows * inRow === plantsPerPlot,
    stretches,
    holds,
    fits: shares !== null,
    groundMm2,
    shares: shares ?? [],
  };
}

/** Longer side over shorter: 1 is a square plot, which keeps its plants together. */
function slimness({ widthMm, lengthMm }: Shape): number {
  return Math.max(widthMm / lengthMm, lengthMm / widthMm);
}

/** Every shape of plot that has a place in some bed, the one to be preferred first. */
function shapesOf(request: FitRequest): Shape[] {
  const widestMm = Math.max(0, ...stretchesOf(request).map((stretch) => stretch.widthMm));
  const rowsThatFit = Math.floor(widestMm / request.betweenRowsMm) + (potOf(request) ? 1 : 0);
  const mostRows = Math.min(request.plantsPerPlot, rowsThatFit);
  return Array.from({ length: mostRows }, (_, index) => shapeOf(request, index + 1))
    .filter((shape) => shape !== null)
    .sort(
      (a, b) =>
        Number(b.fits) - Number(a.fits) ||
        Number(b.isFull) - Number(a.isFull) ||
        a.groundMm2 - b.groundMm2 ||
        slimness(a) - slimness(b),
    );
}

function cellsOf(request: FitRequest, shape: Shape): Cell[] {
  const { stretches, holds, shares, widthMm, lengthMm } = shape;
  const runs = runsOf(request);
  const along = linesLieAlong(request);
  const cells: Cell[] = [];
  const rowsInBed = new Map<string, number>();
  const fromRight = (bedId: string) =>
    request.pathSide === "right" || (request.pathSide === "between" && bedId === request.beds[0].id);
  let block = 0;
  stretches.forEach((stretch, index) => {
    const { lines, inLine } = holds[index];
    const share = shares[index];
    const rowsBefore = rowsInBed.get(stretch.bedId) ?? 0;
    const linesTaken = runs ? share * runs.together * lines : Math.ceil(share / Math.max(1, inLine));
    const columns = along ? linesTaken : inLine;
    const marginMm = Math.floor((stretch.widthMm - columns * widthMm) / 2);
    const place = (blockNumber: number | null, firstLine: number, position: number) => {
      const line = firstLine + Math.floor(position / inLine);
      const [row, column] = along ? [position % inLine, line] : [line, position % inLine];
      rowsInBed.set(stretch.bedId, Math.max(rowsInBed.get(stretch.bedId) ?? 0, rowsBefore + row + 1));
      cells.push({
        bedId: stretch.bedId,
        block: blockNumber,
        row: rowsBefore + row + 1,
        column: column + 1,
        xMm: stretch.xMm + marginMm + (fromRight(stretch.bedId) ? columns - 1 - column : column) * widthMm,
        yMm: stretch.yMm + row * lengthMm,
      });
    };
    if (!runs) {
      for (let plot = 0; plot < share; plot += 1) place(null, 0, plot);
      return;
    }
    for (let inStretch = 0; inStretch < share * runs.together; inStretch += 1) {
      block += 1;
      for (let position = 0; position < runs.plots; position += 1) place(block, inStretch * lines, position);
    }
  });
  return cells;
}

function count(number: number, one: string, many = `${one}s`): string {
  return `${number} ${number === 1 ? one : many}`;
}

/** Whether the beds hold a trial of this size, without saying why not. */
export function fitsBeds(request: FitRequest): boolean {
  return !isMixed(request) && shapesOf(request).some((shape) => shape.fits);
}

/** The nearest plans that fit: fewer blocks, fewer plants a plot, and where neither helps, fewer of both. */
export function nearestPlans(request: FitRequest): { blocks: number; plantsPerPlot: number }[] {
  const { blocks, plantsPerPlot } = request;
  const largest = (most: number, at: (figure: number) => Partial<FitRequest>) => {
    for (let figure = most; figure >= 1; figure -= 1)
      if (fitsBeds({ ...request, ...at(figure) })) return figure;
    return null;
  };
  // A Latin square has as many blocks as varieties; an alpha layout of one replicate compares nothing.
  const fewest = request.design === "incomplete-blocks" ? 2 : 1;
  const fewer = request.design === "latin" ? null : largest(blocks - 1, (figure) => ({ blocks: figure }));
  const fewerBlocks = fewer !== null && fewer >= fewest ? fewer : null;
  const fewerPlants = largest(plantsPerPlot - 1, (figure) => ({ plantsPerPlot: figure }));
  const near = [];
  if (fewerBlocks !== null) near.push({ blocks: fewerBlocks, plantsPerPlot });
  if (fewerPlants !== null) near.push({ blocks, plantsPerPlot: fewerPlants });
  if (near.length > 0 || request.design === "latin") return near;
  for (let both = blocks - 1; both >= fewest; both -= 1) {
    const plants = largest(plantsPerPlot - 1, (figure) => ({ blocks: both, plantsPerPlot: figure }));
    if (plants !== null) return [{ blocks: both, plantsPerPlot: plants }];
  }
  return [];
}

const longestMm = 10_000_000;

/** The length that the plan would need of a bed as wide as the widest with nothing in the way; null when none is long enough. */
function neededMm(request: FitRequest): number | null {
  const widthMm = Math.max(...request.beds.map((bed) => bed.widthMm));
  const fitsIn = (lengthMm: number) =>
    fitsBeds({ ...request, beds: [{ id: "one", widthMm, lengthMm, potMm: request.beds[0].potMm }] });
  if (!fitsIn(longestMm)) return null;
  let [tooShort, enough] = [0, longestMm];
  while (enough - tooShort > 1) {
    const middle = Math.floor((tooShort + enough) / 2);
    if (fitsIn(middle)) enough = middle;
    else tooShort = middle;
  }
  return enough;
}

/** Whether pots stand beside ground, or pots of two sizes together. */
function isMixed({ beds }: FitRequest): boolean {
  return (
    beds.some((bed) => bed.potMm !== beds[0].potMm) ||
    (beds[0].potMm !== undefined && beds.some((bed) => bed.widthMm !== beds[0].widthMm))
  );
}

/** How many plots the whole trial has. */
export function plotsOf(request: FitRequest): number {
  const { design, entries, blocks, levels = 1, checks = 0 } = request;
  if (design === "latin") return entries ** 2;
  if (design === "split-plot") return entries * blocks * levels;
  if (design === "augmented") return entries - checks + checks * blocks;
  return entries * blocks;
}

function list(words: string[]): string {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
}

/** What a number of blocks is called in each design, one and many. */
function blockWords(design: Design): [string, string] {
  if (design === "crd") return ["plot of each variety", "plots of each variety"];
  return design === "incomplete-blocks" ? ["replicate", "replicates"] : ["block", "blocks"];
}

/** Why rows of pots do not hold the plots. */
function refusePots(request: FitRequest, pot: Pot): Fault {
  const { beds, betweenPlantsMm, betweenRowsMm, plantsPerPlot } = request;
  const size = `${sayLengthMm(pot.widthMm)} × ${sayLengthMm(pot.lengthMm)}`;
  if (beds.some((bed) => bed.potMm !== pot.lengthMm || bed.widthMm !== pot.widthMm))
    return {
      place: "beds",
      found: "pots beside ground, or pots of two sizes",
      wanted: "rows of pots of one size, or ground",
    };
  if (shapesOf(request).length === 0)
    return {
      place: "plantsPerPlot",
      found: `${count(plantsPerPlot, "plant")} at ${sayLengthMm(betweenPlantsMm)} × ${sayLengthMm(betweenRowsMm)} in a pot ${size}`,
      wanted: "fewer plants in a pot, or a closer spacing",
    };
  if (request.design === "latin")
    return {
      place: "design",
      found: "a Latin square in rows of pots",
      wanted: "blocks: a row has no columns",
    };
  const pots = beds.map((bed) => Math.floor(bed.lengthMm / pot.lengthMm));
  const have = beds.length === 1 ? `this row has ${pots[0]}` : `these rows have ${list(pots.map(String))}`;
  const near = nearestPlans(request).map((plan) => count(plan.blocks, ...blockWords(request.design)));
  return {
    place: "blocks",
    found: `${count(plotsOf(request), "plot")} want a pot each; ${have}`,
    wanted: near.length > 0 ? near[0] : "fewer varieties, or more pots",
  };
}

function refuse(request: FitRequest): Fault {
  const { beds, design, blocks, plantsPerPlot, entries, betweenPlantsMm, betweenRowsMm } = request;
  const pot =
    potOf(request) ?? (beds.some((bed) => bed.potMm !== undefined) ? { widthMm: 0, lengthMm: 0 } : null);
  if (pot) return refusePots(request, pot);
  const guardMm = 2 * (request.guardRows ?? 0) * betweenRowsMm;
  const widest = Math.max(...beds.map((bed) => bed.widthMm));
  if (widest - guardMm < betweenRowsMm) {
    const guarded = guardMm > 0 ? ` and ${sayLengthMm(guardMm)} of guard rows` : "";
    return {
      place: "beds.0.widthMm",
      found: `a bed ${sayLengthMm(widest)} wide with ${sayLengthMm(betweenRowsMm)} from row to row${guarded}`,
      wanted: `a bed at least ${sayLengthMm(betweenRowsMm + guardMm)} wide, or rows closer together`,
    };
  }
  const needMm = neededMm(request);
  if (design === "latin" && needMm === null)
    return {
      place: "design",
      found: `${count(entries, "plot")} side by side need ${sayLengthMm(entries * betweenRowsMm + guardMm)} of width; the bed is ${sayLengthMm(widest)} wide`,
      wanted: `blocks, a wider bed, or ${count(Math.max(2, Math.floor((widest - guardMm) / betweenRowsMm)), "variety", "varieties")} at most`,
    };
  const spacing = `${sayLengthMm(betweenPlantsMm)} × ${sayLengthMm(betweenRowsMm)}`;
  const guarded = guardMm > 0 ? ` inside ${count(request.guardRows ?? 0, "guard row")}` : "";
  const plots = `${count(plotsOf(request), "plot")} of ${count(plantsPerPlot, "plant")} at ${spacing}${guarded}`;
  const need =
    needMm === null
      ? `${plots} do not go into a bed ${sayLengthMm(widest)} wide in strips along it`
      : `${plots} need ${sayLengthMm(needMm)} of a bed ${sayLengthMm(widest)} wide`;
  const sameWidth = beds.every((bed) => bed.widthMm === widest);
  const sizes = beds.map((bed) =>
    sameWidth ? sayLengthMm(bed.lengthMm) : `${sayLengthMm(bed.widthMm)} × ${sayLengthMm(bed.lengthMm)}`,
  );
  const [one, many] = blockWords(design);
  const isWhole = beds.length > 1 && design !== "crd";
  const whole = isWhole ? `, and a ${design === "latin" ? "square" : one} is not split between beds` : "";
  const isTaken = beds.some((bed) => (bed.takenUp ?? []).length > 0);
  const taken = isTaken ? ", less what stands in the way" : "";
  const have = `${beds.length === 1 ? `this one is ${sizes[0]}` : `these are ${list(sizes)}`}${taken}${whole}`;
  const near = nearestPlans(request).map((plan) => {
    const words = count(plan.blocks, one, many);
    if (plan.plantsPerPlot === plantsPerPlot) return words;
    const plants = `${count(plan.plantsPerPlot, "plant")} a plot`;
    return plan.blocks === blocks ? plants : `${words} with ${plants}`;
  });
  const wanted = near.length > 0 ? near.join(", or ") : "fewer varieties, closer spacing or a longer bed";
  return { place: "blocks", found: `${need}; ${have}`, wanted };
}

/**
 * Whether a trial's plots fit its beds, and where they lie.
 *
 * Plots are rectangles with rows of plants along the bed, half a spacing clear on every side; in a row of pots a plot is a pot. Blocks are runs of whole
 * lines, one after another along the bed, or beside one another in strips along it where the ground changes across; a
 * block is never split between beds, nor by what stands in the way; blocks are spread over the beds as evenly as they
 * hold. Of the shapes that fit, the one with full rows is taken, then the one that takes least ground, then the squarest. What is left
 * of the bed lies at its far end, and evenly at both sides.
 *
 * @returns places of all plots, or one fault that says what is needed, what there is, and the nearest plans that fit
 *
 * Example: 4 varieties × 4 blocks × 3 plants at 30 × 30 cm in a bed 1.2 × 3.6 m → plots 30 × 90 cm, four across.
 */
export function fitBed(request: FitRequest): Outcome<BedPlan> {
  if (isMixed(request)) return refusal([refuse(request)]);
  const [shape] = shapesOf(request);
  if (!shape?.fits) return refusal([refuse(request)]);
  const { widthMm, lengthMm, plantRows } = shape;
  return success({ widthMm, lengthMm, plantRows, cells: cellsOf(request, shape) });
}
