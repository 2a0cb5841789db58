/** One setting of the study: what is true, and how the trial is laid out. */
export type Cell =
  | SurvivalCell
  | RemovedCell
  | DecidingCell
  | FamilyCell
  | CoverCell
  | LookSeeCell
  | LuckCell;

export interface SurvivalCell {
  study: "survival";
  layout: "full" | "unequal" | "missing" | "one plot each";
  varieties: number;
  blocks: number;
  plants: number;
  shares: number[];
  icc: number;
  /** Spread between blocks, on the logit scale. */
  blockSd: number;
  /** Whether each trial moves every variety's logit by −0.4 to 0.4, so that the lattice of counts decides no cell. */
  jitter: boolean;
}

/** A trial of which plants are taken out whole between walkabouts. */
export interface RemovedCell extends Omit<SurvivalCell, "study"> {
  study: "removed";
  /** The share of plants taken out, had they lived. */
  removed: number;
}

export interface DecidingCell extends Omit<SurvivalCell, "study"> {
  study: "deciding";
}

export interface FamilyCell extends Omit<SurvivalCell, "study"> {
  study: "family";
}

export interface CoverCell {
  study: "cover";
  varieties: number;
  blocks: number;
  plants: number;
  icc: number;
  /** Spread between main plots of one block and cover, on the logit scale. */
  mainPlotSd: number;
}

export interface LookSeeCell {
  study: "look-see";
  checks: number;
  plants: number;
  icc: number;
  /** How far the logit rises from one end of the bed to the other. */
  trend: number;
  entryShare: number;
}

export interface LuckCell {
  study: "luck";
  name: string;
  blocks: number;
  plants: number;
  shares: number[];
  icc: number;
}

/** True shares taken in turn by the varieties (first, second, first, …), and that of the third where it is another. */
const patterns: [number, number, number | null][] = [
  [0.5, 0.8, null],
  [0.8, 0.8, null],
  [0.95, 0.7, null],
  [0.5, 0.98, null],
  [0.7, 0.9, 0],
];

function sharesOf([odd, even, third]: [number, number, number | null], varieties: number): number[] {
  return Array.from({ length: varieties }, (_, variety) => {
    if (variety === 2 && third !== null) return third;
    return variety % 2 === 0 ? odd : even;
  });
}

function product<Setting>(parts: { [Key in keyof Setting]: readonly Setting[Key][] }): Setting[] {
  return Object.entries(parts).reduce<Setting[]>(
    (settings, [key, values]) =>
      settings.flatMap((setting) => (values as unknown[]).map((value) => ({ ...setting, [key]: value }))),
    [{} as Setting],
  );
}

type Spread = Pick<SurvivalCell, "layout" | "varieties" | "blocks" | "plants" | "icc" | "blockSd"> & {
  pattern: number;
};

function survivalCells(parts: { [Key in keyof Spread]: readonly Spread[Key][] }): SurvivalCell[] {
  return product<Spread>(parts).map(({ pattern, ...setting }) => ({
    study: "survival",
    ...setting,
    shares: sharesOf(patterns[pattern], setting.varieties),
    jitter: true,
  }));
}

const everyPattern = patterns.map((_, index) => index);

/**
 * The main grid, that of the study before ours, fixed on 2026-11-25 before it was run: 3,840 cells. The shares of each
 * pattern are dealt to the varieties in turn; a dead variety has not one plant standing.
 */
export const mainCells = survivalCells({
  layout: ["full"],
  varieties: [3, 4, 6, 8],
  blocks: [2, 3, 4, 5],
  plants: [4, 6, 8, 12],
  icc: [0, 0.1, 0.2, 0.3],
  blockSd: [0, 0.4, 0.8],
  pattern: everyPattern,
});

/** The main grid's unequal and missing variants, fixed at the same time: 960 cells. */
export const unevenCells = survivalCells({
  layout: ["unequal", "missing"],
  varieties: [3, 4, 6, 8],
  blocks: [2, 3, 4],
  plants: [8],
  icc: [0, 0.1, 0.2, 0.3],
  blockSd: [0, 0.8],
  pattern: everyPattern,
});

/** One pass over the main grid and its variants, on seeds that no earlier run used. */
export const mainTrials = 2500;
export const mainSeed = 20_261_125;

export const removedCells: RemovedCell[] = survivalCells({
  layout: ["full"],
  varieties: [4],
  blocks: [3, 4],
  plants: [8, 12],
  icc: [0, 0.1, 0.2, 0.3],
  blockSd: [0.4],
  pattern: everyPattern,
}).map((cell) => ({ ...cell, study: "removed", removed: 0.3 }));

export const singleCells = survivalCells({
  layout: ["one plot each"],
  varieties: [3, 6, 10],
  blocks: [1],
  plants: [6, 8, 12],
  icc: [0, 0.1, 0.2, 0.3],
  blockSd: [0],
  pattern: everyPattern,
});

/** One variety beside many that nearly all live: most of the scatter is its own, and few df tell of it. */
export const lopsidedCells: SurvivalCell[] = product<
  Pick<SurvivalCell, "varieties" | "blocks" | "plants" | "icc"> & { share: number }
>({
  share: [0.5, 0.8],
  varieties: [4, 6, 12],
  blocks: [2, 3, 4],
  plants: [8, 12],
  icc: [0, 0.1, 0.2, 0.3],
}).map(({ share, ...setting }) => ({
  study: "survival",
  layout: "full",
  ...setting,
  shares: Array.from({ length: setting.varieties }, (_, variety) => (variety === 0 ? share : 0.98)),
  blockSd: 0,
  jitter: true,
}));

/** The same true share with and without the jitter. */
export const fixedCells: SurvivalCell[] = product<Pick<SurvivalCell, "icc" | "jitter"> & { share: number }>({
  share: [0.5, 0.7, 0.85, 0.9, 0.95, 0.98],
  icc: [0, 0.1, 0.2, 0.3],
  jitter: [false, true],
}).map(({ share, icc, jitter }) => ({
  study: "survival",
  layout: "full",
  varieties: 4,
  blocks: 3,
  plants: 8,
  shares: [share, share, share, share],
  icc,
  blockSd: 0,
  jitter,
}));

/** The floor of the study of verdicts. */
export const studiedFloor = 0.8;

export const decidingCells: DecidingCell[] = product<
  Pick<SurvivalCell, "varieties" | "blocks" | "plants" | "icc"> & { share: number }
>({
  share: [0.6, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95],
  varieties: [3, 6],
  blocks: [2, 3, 4],
  plants: [6, 12],
  icc: [0, 0.1, 0.2],
}).map(({ share, ...setting }) => ({
  study: "deciding",
  layout: "full",
  ...setting,
  shares: Array.from({ length: setting.varieties }, (_, variety) => (variety === 0 ? share : 0.85)),
  // Blocks alike, so that the true share is the one named.
  blockSd: 0,
  jitter: false,
}));

export const familyCells: FamilyCell[] = product<
  Pick<SurvivalCell, "varieties" | "blocks" | "icc"> & { pattern: number }
>({
  varieties: [3, 5, 8],
  blocks: [2, 3, 4],
  icc: [0, 0.1, 0.2, 0.3],
  pattern: everyPattern,
}).map(({ pattern, ...setting }) => ({
  study: "family",
  layout: "full",
  ...setting,
  plants: 8,
  shares: sharesOf(patterns[pattern], setting.varieties),
  blockSd: 0.4,
  jitter: true,
}));

export const coverCells: CoverCell[] = product<Omit<CoverCell, "study">>({
  varieties: [3, 4],
  blocks: [2, 3, 4],
  plants: [6, 10],
  icc: [0, 0.1, 0.2],
  mainPlotSd: [0, 0.3, 0.6],
}).map((setting) => ({ study: "cover", ...setting }));

export const lookSeeCells: LookSeeCell[] = product<Omit<LookSeeCell, "study">>({
  checks: [2, 3, 4, 6],
  plants: [8],
  icc: [0, 0.1, 0.2],
  trend: [0, 0.8],
  entryShare: [0.5, 0.8, 0.95],
}).map((setting) => ({ study: "look-see", ...setting }));

/** The pair judged is the first two varieties. */
export const luckCells: LuckCell[] = [
  { name: "all alike (0.7), 4 varieties", shares: [0.7, 0.7, 0.7, 0.7], icc: 0.1 },
  { name: "all alike (0.7), 4 varieties, more clumping", shares: [0.7, 0.7, 0.7, 0.7], icc: 0.3 },
  { name: "pair alike (0.5) beside 0.02 and 0.98", shares: [0.5, 0.5, 0.02, 0.98], icc: 0.1 },
  { name: "pair alike (0.95) beside three at 0.5", shares: [0.95, 0.95, 0.5, 0.5, 0.5], icc: 0.1 },
  { name: "0.5 against 0.9, three at 0.5", shares: [0.9, 0.5, 0.5, 0.5, 0.5], icc: 0.1 },
  { name: "0.5 against 0.9, two dead, one at 0.5", shares: [0.9, 0.5, 0.02, 0.02, 0.5], icc: 0.1 },
].map((setting) => ({ study: "luck", blocks: 4, plants: 8, ...setting }));
