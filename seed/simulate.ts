import { normalQuantile } from "@/lib/statistics/normal";
import { type RandomStream, randomStream } from "@/lib/statistics/random-stream";
import { addDays, type Day, daysBetween } from "@/lib/words/day";

/** How one variety truly fares; every value is invented. */
interface VarietyTruth {
  /** Chance that a plant takes, and that one which took stands in spring, in a block of no shift. */
  took: number;
  wintered: number;
  /** Chance that a plant which winters looks dead in the cold and comes again from the crown. */
  looksDead: number;
  /** What one standing plant gives on a pick of season 1. */
  gramsPerPick: number;
  /** Shares of what takes plants over winter. */
  winterCauses: Record<string, number>;
  /** Share that would stand in spring, averaged over these blocks, if the trial were repeated without end. */
  standing: number;
  /** Mean of all trial picks, per plant set out, if the trial were repeated without end. */
  gramsPerPlant: number;
}

export interface TrialTruth {
  /** Chance that two plants of one plot share their fate: the intra-class correlation. */
  sharedFate: number;
  /** What each block adds to the log odds of taking and of wintering. */
  blockShift: number[];
  /** What each block's ground does to weights. */
  blockYield: number[];
  /** What the cover of a main plot, by its words, adds to the log odds of wintering; nothing where covers are not compared. */
  coverShift?: Record<string, number>;
  takeCauses: Record<string, number>;
  varieties: Record<string, VarietyTruth>;
}

/** What becomes of one plant. One that comes again was noted as lost between the two days. */
export interface Fate {
  goneOn: Day | null;
  cause: string;
  comesAgainOn: Day | null;
}

/** A day of picking, and how well things grow by then: 1 is a full pick. */
export interface Pick {
  day: Day;
  season: number;
}

export interface PlotFate {
  plants: Fate[];
  /** Grams on each pick, before anything else befalls the plot. */
  grams: number[];
}

/** Days of the winter, counted from the first of September before it, in which a cause takes plants. */
const causeWindows: Record<string, [number, number]> = {
  slugs: [45, 88],
  birds: [90, 170],
  rot: [70, 140],
  mammals: [75, 165],
  cold: [124, 160],
};
const takesWithin: [number, number] = [2, 19];
const comesAgain: [number, number] = [188, 207];
const plotSpread = 0.12;
const pickSpread = 0.08;

function logistic(logOdds: number): number {
  return 1 / (1 + Math.exp(-logOdds));
}

/** A chance moved on the scale of log odds. */
export function shifted(chance: number, shift: number): number {
  return logistic(Math.log(chance / (1 - chance)) + shift);
}

function between([first, last]: [number, number], share: number): number {
  return first + Math.floor(share * (last - first + 1));
}

function causeAt(causes: Record<string, number>, share: number): string {
  const total = Object.values(causes).reduce((sum, weight) => sum + weight, 0);
  let left = share * total;
  for (const [cause, weight] of Object.entries(causes)) {
    left -= weight;
    if (left < 0) return cause;
  }
  return Object.keys(causes)[0];
}

function winterStart(plantedOn: Day): Day {
  return `${plantedOn.slice(0, 4)}-09-01` as Day;
}

/** A lognormal factor with mean 1. */
function spreadFactor(stream: RandomStream, sd: number): number {
  const share = (stream.whole(1_000_000) + 0.5) / 1_000_000;
  return Math.exp(sd * normalQuantile(share) - (sd * sd) / 2);
}

function coverShiftOf(truth: TrialTruth, under: string | null): number {
  return under === null ? 0 : (truth.coverShift?.[under] ?? 0);
}

/** The covers that the trial compares; one that is none where it compares none. */
function coversOf(truth: TrialTruth): (string | null)[] {
  return truth.coverShift ? Object.keys(truth.coverShift) : [null];
}

function fateOf(
  truth: TrialTruth,
  variety: VarietyTruth,
  { block, under, plantedOn }: { block: number; under: string | null; plantedOn: Day },
  draw: (purpose: number) => number,
): Fate {
  const shift = truth.blockShift[block - 1];
  const covered = coverShiftOf(truth, under);
  const inWinter = (day: number) => addDays(winterStart(plantedOn), day);
  if (draw(0) >= shifted(variety.took, shift)) {
    const goneOn = addDays(plantedOn, between(takesWithin, draw(1) ** 2));
    return { goneOn, cause: causeAt(truth.takeCauses, draw(2)), comesAgainOn: null };
  }
  if (draw(3) >= shifted(variety.wintered, shift + covered)) {
    const cause = causeAt(variety.winterCauses, draw(4));
    return { goneOn: inWinter(between(causeWindows[cause], draw(5))), cause, comesAgainOn: null };
  }
  if (draw(6) >= variety.looksDead) return { goneOn: null, cause: "", comesAgainOn: null };
  return {
    goneOn: inWinter(between(causeWindows.cold, draw(5))),
    cause: "cold",
    comesAgainOn: inWinter(between(comesAgain, draw(7))),
  };
}

/** Whether a plant can be picked on a day. */
function bears({ goneOn, comesAgainOn }: Fate, day: Day): boolean {
  return goneOn === null || day < goneOn || (comesAgainOn !== null && daysBetween(comesAgainOn, day) >= 14);
}

/**
 * What becomes of the plants set out in one plot on one day, and what the plot gives.
 *
 * Clumping: each plant takes each of its chances from the plot's own draw with probability √ρ and from a draw of its own
 * otherwise. Two plants of a plot then have exactly correlation ρ in taking and in wintering, and each plant exactly its
 * variety's chance in that block.
 */
export function simulatePlot(
  truth: TrialTruth,
  plot: {
    variety: string;
    block: number;
    under: string | null;
    plants: number;
    plantedOn: Day;
    picks: readonly Pick[];
  },
  stream: RandomStream,
): PlotFate {
  const variety = truth.varieties[plot.variety];
  const draws = () => Array.from({ length: 8 }, () => stream.uniform());
  const shared = draws();
  const follows = Math.sqrt(truth.sharedFate);
  const plants = Array.from({ length: plot.plants }, () => {
    const own = draws().map((draw, purpose) => (stream.uniform() < follows ? shared[purpose] : draw));
    return fateOf(truth, variety, plot, (purpose) => own[purpose]);
  });
  const ground = truth.blockYield[plot.block - 1] * spreadFactor(stream, plotSpread);
  const grams = plot.picks.map(({ day, season }) => {
    const bearing = plants.filter((plant) => bears(plant, day)).length;
    const factor = ground * season * spreadFactor(stream, pickSpread);
    return Math.round(bearing * variety.gramsPerPick * factor);
  });
  return { plants, grams };
}

/** The share of a variety's plants that would stand in spring, averaged over the blocks and covers: exact. */
export function trueStanding(truth: TrialTruth, variety: string): number {
  const { took, wintered } = truth.varieties[variety];
  const each = coversOf(truth).flatMap((under) =>
    truth.blockShift.map(
      (shift) => shifted(took, shift) * shifted(wintered, shift + coverShiftOf(truth, under)),
    ),
  );
  return each.reduce((sum, share) => sum + share, 0) / each.length;
}

/** The mean weight per plant set out, from so many repetitions of every block under every cover. */
export function trueGramsPerPlant(
  truth: TrialTruth,
  variety: string,
  trial: { plants: number; plantedOn: Day; picks: readonly Pick[] },
  repetitions: number,
  seed: number,
): number {
  const stream = randomStream(seed);
  let grams = 0;
  const covers = coversOf(truth);
  for (let repetition = 0; repetition < repetitions; repetition += 1)
    for (let block = 1; block <= truth.blockShift.length; block += 1)
      for (const under of covers)
        for (const pick of simulatePlot(truth, { ...trial, variety, block, under }, stream).grams)
          grams += pick;
  return grams / (repetitions * truth.blockShift.length * covers.length * trial.plants);
}
