import { type Outcome, refusal, success } from "@/lib/words/fault";
import { sayLengthMm } from "@/lib/words/length";
import type { Design } from "@/lib/words/trial";

export interface FitRequest {
  design: Design;
  /** How many varieties. */
  entries: number;
  /** Blocks, or plots of each variety where there are none. */
  blocks: number;
  plantsPerPlot: number;
  /** Along a row. */
  betweenPlantsMm: number;
  /** From row to row. */
  betweenRowsMm: number;
  /** In walking order. */
  beds: { id: string; widthMm: number; lengthMm: number }[];
}

/** A plot's place, before a variety is dealt to it; measured from the bed's path-side left corner. */
export interface Cell {
  bedId: string;
  block: number | null;
  /** Line along the bed and place across it, both from 1 in each bed. */
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
  /** Block by block, and in each as one walks: line by line, across from the left. */
  cells: Cell[];
}

/** How one shape of plot lies in the beds. */
interface Shape {
  plantRows: number;
  widthMm: number;
  lengthMm: number;
  isFull: boolean;
  /** Per bed: lines in a block (for a completely random layout, in the bed), plots in a line, how many blocks (plots) fit. */
  beds: { lines: number; across: number; fits: number }[];
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

function shapeOf(request: FitRequest, plantRows: number): Shape | null {
  const { plantsPerPlot, betweenPlantsMm, betweenRowsMm } = request;
  const inRow = Math.ceil(plantsPerPlot / plantRows);
  if ((plantRows - 1) * inRow >= plantsPerPlot) return null;
  const widthMm = plantRows * betweenRowsMm;
  const lengthMm = inRow * betweenPlantsMm;
  const inBlocks = request.design === "rcbd";
  const beds = request.beds.map((bed) => {
    const most = Math.floor(bed.widthMm / widthMm);
    const linesThatFit = Math.floor(bed.lengthMm / lengthMm);
    if (most === 0) return { lines: 0, across: 0, fits: 0 };
    if (!inBlocks) return { lines: linesThatFit, across: most, fits: linesThatFit * most };
    const lines = Math.ceil(request.entries / most);
    return { lines, across: Math.ceil(request.entries / lines), fits: Math.floor(linesThatFit / lines) };
  });
  const wanted = inBlocks ? request.blocks : request.blocks * request.entries;
  const shares = spread(
    wanted,
    beds.map((bed) => bed.fits),
  );
  const groundMm2 = request.beds.reduce((sum, bed, index) => {
    const { lines, across } = beds[index];
    const share = shares?.[index] ?? 0;
    const linesTaken = inBlocks ? share * lines : Math.ceil(share / Math.max(1, across));
    return sum + bed.widthMm * linesTaken * lengthMm;
  }, 0);
  return {
    plantRows,
    widthMm,
    lengthMm,
    isFull: plantRows * inRow === plantsPerPlot,
    beds,
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
  const widestMm = Math.max(...request.beds.map((bed) => bed.widthMm));
  const mostRows = Math.min(request.plantsPerPlot, Math.floor(widestMm / request.betweenRowsMm));
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
  const cells: Cell[] = [];
  let block = 0;
  request.beds.forEach((bed, index) => {
    const { lines, across } = shape.beds[index];
    const share = shape.shares[index];
    const marginMm = Math.floor((bed.widthMm - across * shape.widthMm) / 2);
    const place = (blockNumber: number | null, firstLine: number, position: number) => {
      const line = firstLine + Math.floor(position / across);
      const column = position % across;
      cells.push({
        bedId: bed.id,
        block: blockNumber,
        row: line + 1,
        column: column + 1,
        xMm: marginMm + column * shape.widthMm,
        yMm: line * shape.lengthMm,
      });
    };
    if (request.design === "crd") {
      for (let plot = 0; plot < share; plot += 1) place(null, 0, plot);
      return;
    }
    for (let inBed = 0; inBed < share; inBed += 1) {
      block += 1;
      for (let position = 0; position < request.entries; position += 1) place(block, inBed * lines, position);
    }
  });
  return cells;
}

function count(number: number, one: string, many = `${one}s`): string {
  return `${number} ${number === 1 ? one : many}`;
}

function fits(request: FitRequest): boolean {
  return shapesOf(request).some((shape) => shape.fits);
}

/** The nearest plans that fit: fewer blocks, fewer plants a plot, and where neither helps, fewer of both. */
export function nearestPlans(request: FitRequest): { blocks: number; plantsPerPlot: number }[] {
  const { blocks, plantsPerPlot } = request;
  const largest = (most: number, at: (figure: number) => Partial<FitRequest>) => {
    for (let figure = most; figure >= 1; figure -= 1) if (fits({ ...request, ...at(figure) })) return figure;
    return null;
  };
  const fewerBlocks = largest(blocks - 1, (figure) => ({ blocks: figure }));
  const fewerPlants = largest(plantsPerPlot - 1, (figure) => ({ plantsPerPlot: figure }));
  const near = [];
  if (fewerBlocks !== null) near.push({ blocks: fewerBlocks, plantsPerPlot });
  if (fewerPlants !== null) near.push({ blocks, plantsPerPlot: fewerPlants });
  if (near.length > 0) return near;
  for (let both = blocks - 1; both >= 1; both -= 1) {
    const plants = largest(plantsPerPlot - 1, (figure) => ({ blocks: both, plantsPerPlot: figure }));
    if (plants !== null) return [{ blocks: both, plantsPerPlot: plants }];
  }
  return [];
}

/** The length that the plan would need of a bed as wide as the widest, laid as tightly as it goes. */
function neededMm(request: FitRequest): number {
  const widest = request.beds.reduce((a, b) => (b.widthMm > a.widthMm ? b : a));
  const endless = { ...request, beds: [{ ...widest, lengthMm: Number.MAX_SAFE_INTEGER }] };
  const lengths = shapesOf(endless).map((shape) => shape.groundMm2 / widest.widthMm);
  return Math.min(...lengths);
}

function list(words: string[]): string {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
}

function refuse(request: FitRequest): { place: string; found: string; wanted: string } {
  const { beds, design, blocks, entries, plantsPerPlot, betweenPlantsMm, betweenRowsMm } = request;
  const widest = Math.max(...beds.map((bed) => bed.widthMm));
  if (widest < betweenRowsMm) {
    return {
      place: "beds.0.widthMm",
      found: `a bed ${sayLengthMm(widest)} wide with ${sayLengthMm(betweenRowsMm)} from row to row`,
      wanted: `a bed at least ${sayLengthMm(betweenRowsMm)} wide, or rows closer together`,
    };
  }
  const spacing = `${sayLengthMm(betweenPlantsMm)} × ${sayLengthMm(betweenRowsMm)}`;
  const plots = `${count(blocks * entries, "plot")} of ${count(plantsPerPlot, "plant")} at ${spacing}`;
  const need = `${plots} need ${sayLengthMm(neededMm(request))} of a bed ${sayLengthMm(widest)} wide`;
  const sameWidth = beds.every((bed) => bed.widthMm === widest);
  const sizes = beds.map((bed) =>
    sameWidth ? sayLengthMm(bed.lengthMm) : `${sayLengthMm(bed.widthMm)} × ${sayLengthMm(bed.lengthMm)}`,
  );
  const whole = beds.length > 1 && design === "rcbd" ? ", and a block is not split between beds" : "";
  const have = beds.length === 1 ? `this one is ${sizes[0]}` : `these are ${list(sizes)}${whole}`;
  const blockWords =
    design === "rcbd" ? ["block", "blocks"] : ["plot of each variety", "plots of each variety"];
  const near = nearestPlans(request).map((plan) => {
    const words = `${count(plan.blocks, blockWords[0], blockWords[1])}`;
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
 * Plots are rectangles with rows of plants along the bed, half a spacing clear on every side. Blocks are runs of whole
 * lines along the bed, a block never split between beds; blocks are spread over the beds as evenly as they hold. Of the
 * shapes that fit, the one with full rows is taken, then the one that takes least ground, then the squarest. What is left
 * of the bed lies at its far end, and evenly at both sides.
 *
 * @returns places of all plots, or one fault that says what is needed, what there is, and the nearest plans that fit
 *
 * Example: 4 varieties × 4 blocks × 3 plants at 30 × 30 cm in a bed 1.2 × 3.6 m → plots 30 × 90 cm, four across.
 */
export function fitBed(request: FitRequest): Outcome<BedPlan> {
  const [shape] = shapesOf(request);
  if (!shape?.fits) return refusal([refuse(request)]);
  const { widthMm, lengthMm, plantRows } = shape;
  return success({ widthMm, lengthMm, plantRows, cells: cellsOf(request, shape) });
}
