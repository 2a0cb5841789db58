import { listGerminationTests } from "@/db/queries/list-germination-tests";
import { seedsNeeded } from "@/lib/design/seeds-needed";
import { germination } from "@/lib/statistics/germination";
import type { Day } from "@/lib/words/day";
import { type Fault, type Outcome, refusal, success } from "@/lib/words/fault";
import { parseNumber } from "@/lib/words/number";
import type { House } from "./house";
import { trialView } from "./trial-view";

export interface SowingLine {
  entryId: string;
  variety: string;
  /** Every day on which some of it is sown, and how many plants are wanted from that sowing. */
  sowings: {
    sownOn: Day;
    plants: number;
    seeds: number | null;
    /** At the lower limit of the packet's test; null without one. */
    seedsToBeSure: number | null;
  }[];
  /** As typed, or from its test, in 100. */
  germination: string;
  /** The last germination test of its packet, and what it says; null where there is none. */
  test: GerminationLine | null;
}

export interface GerminationLine {
  seeds: number;
  cameUp: number;
  afterDays: number;
  share: number;
  low: number;
  high: number;
}

export interface SowingList {
  lines: SowingLine[];
  spares: string;
  /** Anything that was typed and cannot be read; its lines go without seeds. */
  faults: Fault[];
}

/** Taken where nothing was typed (*common practice*): a packet of good seed, and a spare for every fifth plant. */
const usualGermination = "80";
const usualSpares = "20";
const level = 0.95;

/** The last test of each entry's packet, with the limits of what comes up. */
function testsOf(house: House, trialId: string): Map<string, GerminationLine> {
  return new Map(
    listGerminationTests(house.database, trialId).map(({ entryId, seeds, cameUp, afterDays }) => {
      const { share, limits } = germination([{ day: afterDays, newly: cameUp }], seeds, level);
      return [entryId, { seeds, cameUp, afterDays, share, low: limits.low, high: limits.high }];
    }),
  );
}

function percent(typed: string, place: string, minimum: number, maximum: number): Outcome<number> {
  const wanted = `a percentage from ${minimum} to ${maximum}`;
  const read = parseNumber(typed.replace(/%\s*$/, ""), { place, minimum, maximum, wanted });
  return read.ok ? success(read.value / 100) : refusal(read.faults);
}

/**
 * What to sow for a trial: for each variety and sowing date the plants that its plots want, and the seeds for them at the
 * germination of its packet as typed, or as its last test has it, with spares. Null when there is no such trial.
 *
 * @param typed `spares`, and `germination.` with an entry's id, each a percentage as it was typed; empty is the usual
 */
export function sowingList(
  house: House,
  trialId: string,
  typed: Record<string, string | undefined>,
): SowingList | null {
  const trial = trialView(house, trialId);
  if (!trial) return null;
  const faults: Fault[] = [];
  const take = (place: string, usual: string, minimum: number, maximum: number) => {
    const words = typed[place]?.trim() || usual;
    const read = percent(words, place, minimum, maximum);
    if (!read.ok) faults.push(...read.faults);
    return { words, share: read.ok ? read.value : null };
  };
  const spares = take("spares", usualSpares, 0, 500);
  const tests = testsOf(house, trialId);
  const days = trial.levels.flatMap((level) => (level.sownOn === null ? [] : [level]));
  const lines = trial.entries.map((entry): SowingLine => {
    const test = tests.get(entry.id) ?? null;
    const isTyped = Boolean(typed[`germination.${entry.id}`]?.trim());
    const germination =
      test && !isTyped
        ? { words: String(Math.round(test.share * 100)), share: test.share }
        : take(`germination.${entry.id}`, usualGermination, 1, 100);
    const own = trial.plots.filter((plot) => plot.entryId === entry.id);
    const wanted =
      days.length === 0
        ? [{ sownOn: trial.sownOn, plots: own }]
        : days.map((level) => ({
            sownOn: level.sownOn as Day,
            plots: own.filter((plot) => plot.under === level.words),
          }));
    return {
      entryId: entry.id,
      variety: entry.variety,
      germination: germination.words,
      test,
      sowings: wanted.map(({ sownOn, plots }) => {
        const plants = plots.reduce((sum, plot) => sum + plot.plants, 0);
        const seedsAt = (share: number | null) =>
          spares.share === null || share === null || share <= 0
            ? null
            : seedsNeeded(plants, spares.share, share);
        return {
          sownOn,
          plants,
          seeds: seedsAt(germination.share),
          seedsToBeSure: test && !isTyped ? seedsAt(test.low) : null,
        };
      }),
    };
  });
  return { lines, spares: spares.words, faults };
}
