import { newcombeDifference } from "@/lib/statistics/newcombe-difference";
import { beginSentence } from "@/lib/words/begin-sentence";
import { type Day, sayDay } from "@/lib/words/day";
import { sayLayoutReach } from "@/lib/words/say-layout-reach";
import { factorWords } from "@/lib/words/trial";
import { caution, counted, inOrder, listed } from "./caution-order";
import type { DecisivePlot } from "./decisive-plots";
import type { Caution, Survival, SurvivalOfMain } from "./finding";
import { meanReach } from "./mean-reach";
import type { PlotStand } from "./plot-stand";
import type { TrialRecord } from "./trial-record";

const fewestResidualDf = 6;
const manyComparisons = 6;
const highestUsefulP = 0.05;

interface Told {
  record: TrialRecord;
  survival: Survival;
  stands: PlotStand[];
  /** Plots that nobody counted while the others were counted. */
  neverSeen: string[];
  decisive: DecisivePlot[];
  asOf: Day | null;
  level: number;
}

/** What to beware of in the survival figures, the most important first. */
export function survivalCautions(told: Told): Caution[] {
  return inOrder([
    ...aboutDesign(told),
    ...(told.survival.lookSee ? [] : aboutPlots(told)),
    ...aboutDf(told.survival),
    ...aboutExtremes(told.survival),
    ...(told.survival.lookSee ? [] : aboutAlone(told.survival)),
    ...aboutCounts(told),
    ...aboutCutting(told),
    ...aboutDecisive(told.decisive),
    ...aboutComparisons(told),
  ]);
}

/** Fewest blocks at which covers on main plots are more than described. */
const fewestMainBlocks = 6;

function aboutDesign({ record, survival, level }: Told): Caution[] {
  const { main, lookSee } = survival;
  const blocks = new Set(record.plots.map((plot) => plot.block)).size;
  return [
    ...(lookSee
      ? [
          caution(
            "look-see",
            "This bed can tell dead from alive. The best-looking entry is usually worse than it looks: of eight, the best shown at 96 in a hundred was truly 78.",
          ),
        ]
      : []),
    ...(main?.differences.some(({ estimate }) => estimate !== null) && blocks < fewestMainBlocks
      ? [caution("few-main-plots", fewMainPlots(main, blocks, record.check, level))]
      : []),
  ];
}

function fewMainPlots(main: SurvivalOfMain, blocks: number, check: string | null, level: number): string {
  const plural = beginSentence(factorWords[main.factor].many);
  const reach = reachInAHundred(main.differences);
  const beside = reachInAHundred(differencesWithin(main, check, level));
  const alike = { cover: "under one cover", sowing: "of one sowing", companion: "grown alike" };
  const varieties = `between two varieties ${alike[main.factor]}`;
  if (blocks < 3)
    return `${plural} stood on ${blocks === 1 ? "one block" : "two blocks"}: what they did is described, not tested.${beside === null ? "" : ` ${beginSentence(varieties)} expect to see only differences above about ${beside} in a hundred.`}`;
  const seen =
    reach === null
      ? ""
      : `; expect to see only differences above about ${reach} in a hundred${beside === null ? "" : `, and above about ${beside} ${varieties}`}`;
  return `${plural} are compared on ${counted(main.df, "degree")} of freedom${seen}.`;
}

/** What varieties differ by under each cover, or from each sowing: against the check, or every pair without one. */
function differencesWithin(
  { treatments, cells }: SurvivalOfMain,
  check: string | null,
  level: number,
): Limits[] {
  const told = cells.flatMap((cell) =>
    cell.estimate === null || !cell.effectivePlants
      ? []
      : [{ ...cell, told: { share: cell.estimate, plants: cell.effectivePlants } }],
  );
  return treatments.flatMap(({ treatment }) => {
    const own = told.filter((cell) => cell.treatment === treatment);
    return own.flatMap((one, place) =>
      own
        .slice(place + 1)
        .filter((other) => check === null || one.variety === check || other.variety === check)
        .map((other) => newcombeDifference(one.told, other.told, level)),
    );
  });
}

interface Limits {
  low: number | null;
  high: number | null;
}

/** How far the limits reach on average, in a hundred; null where there are none. */
function reachInAHundred(differences: readonly Limits[]): number | null {
  const reach = meanReach(differences);
  return reach === null ? null : Math.round(100 * reach);
}

function aboutPlots({ survival }: Told): Caution[] {
  const single = survival.varieties
    .filter((variety) => variety.plots === 1)
    .map((variety) => variety.variety);
  const none = survival.varieties.filter((variety) => variety.plots === 0).map((variety) => variety.variety);
  return [
    ...(single.length > 0
      ? [
          caution(
            "one-plot-a-variety",
            `${listed(single)} had one plot: one plot cannot tell a variety from its spot.`,
          ),
        ]
      : []),
    ...(none.length > 0
      ? [caution("not-estimable", `${listed(none)}: no plot with plants, so nothing can be said.`)]
      : []),
  ];
}

function aboutDf({ df }: Survival): Caution[] {
  if (df === 0)
    return [
      caution(
        "no-residual-df",
        "No plots to spare: this bed cannot show how much plants of one plot share their fate, so a general expectation of it is used alone.",
      ),
    ];
  if (df < fewestResidualDf)
    return [
      caution(
        "few-residual-df",
        `Only ${counted(df, "degree")} of freedom to judge the scatter between plots by: the limits lean on a general expectation of it.`,
      ),
    ];
  return [];
}

function aboutExtremes({ varieties }: Survival): Caution[] {
  const told = varieties.filter((variety) => variety.plants - variety.censored > 0);
  const none = told.filter((variety) => variety.standing === variety.plants - variety.censored);
  const all = told.filter((variety) => variety.standing === 0);
  return [
    ...(none.length > 0
      ? [
          caution(
            "none-lost",
            `${listed(none.map((one) => one.variety))} lost none: that is not proof that none would be lost.`,
          ),
        ]
      : []),
    ...(all.length > 0
      ? [
          caution(
            "all-lost",
            `${listed(all.map((one) => one.variety))} lost all: that is not proof that none could stand.`,
          ),
        ]
      : []),
  ];
}

/** As in the section *one variety beside many near 1* of lib/statistics/CALIBRATION.md, where the limits fall short. */
const fewestBeside = 3;
const nearlyAll = 0.95;

function aboutAlone({ varieties }: Survival): Caution[] {
  const told = varieties.filter((variety) => variety.plants - variety.censored > 0);
  if (told.length <= fewestBeside) return [];
  const shareOf = (some: typeof told) =>
    some.reduce((sum, one) => sum + one.standing, 0) /
    some.reduce((sum, one) => sum + one.plants - one.censored, 0);
  return told.flatMap((one) => {
    const share = shareOf([one]);
    const beside = shareOf(told.filter((other) => other !== one));
    if (share <= 1 - nearlyAll || share >= nearlyAll) return [];
    if (beside < nearlyAll && beside > 1 - nearlyAll) return [];
    const others = beside >= nearlyAll ? "nearly all live" : "nearly all die";
    return [
      caution(
        "alone-beside-many",
        `${one.variety} stands beside varieties that ${others}, which tell little of how its plants share their fate: its limits may be too narrow. Limits meant to hold 95 times in 100 held as seldom as 85 in simulated trials like this.`,
      ),
    ];
  });
}

function aboutCounts({ stands, neverSeen, asOf }: Told): Caution[] {
  const codes = (some: PlotStand[]) => listed(some.map((stand) => stand.plot.code));
  const unsettled = stands.filter((stand) => stand.unsettled > 0);
  const missed = stands.filter((stand) => stand.notSeenSince);
  const doubtful = stands.filter((stand) => stand.doubtful > 0);
  const doubted = doubtful.reduce((sum, stand) => sum + stand.doubtful, 0);
  const filled = stands.filter((stand) => stand.fillingsStanding > 0);
  const lost = stands.reduce((sum, stand) => sum + stand.lost, 0);
  const unknown = stands
    .flatMap((stand) => stand.losses)
    .filter((loss) => loss.cause === "unknown")
    .reduce((sum, loss) => sum + loss.plants, 0);
  return [
    ...(neverSeen.length > 0
      ? [caution("never-seen", `Nobody counted ${listed(neverSeen)}: left out, not taken as standing.`)]
      : []),
    ...(unsettled.length > 0
      ? [
          caution(
            "unsettled",
            `Counts that do not agree in ${codes(unsettled)}: recount them, or say what regrew or was added.`,
          ),
        ]
      : []),
    ...(missed.length > 0
      ? [
          caution(
            "not-seen-since",
            `Nobody could look at ${codes(missed)} at the last round: their figures are from the look before.`,
          ),
        ]
      : []),
    ...(doubtful.length > 0
      ? [
          caution(
            "doubtful",
            `${counted(doubted, "plant")} in ${codes(doubtful)} looked doubtful${asOf ? ` by ${sayDay(asOf)}` : ""} and ${doubted === 1 ? "counts" : "count"} as standing: judge ${doubted === 1 ? "it" : "them"} once growth has started.`,
          ),
        ]
      : []),
    ...(filled.length > 0
      ? [
          caution(
            "fillings-apart",
            `Gaps in ${codes(filled)} were filled after the plants had taken: the later plants are not in these figures.`,
          ),
        ]
      : []),
    ...(lost > 0 && unknown * 2 > lost
      ? [
          caution(
            "unknown-causes",
            unknown === lost
              ? `What took the lost plants was never noted.`
              : `${unknown} of ${lost} losses have no known cause.`,
          ),
        ]
      : []),
  ];
}

function aboutCutting({ stands }: Told): Caution[] {
  const cut = stands.filter((stand) => stand.removals.some((removal) => removal.cause === "cut"));
  if (cut.length === 0 || cut.length === stands.length) return [];
  return [
    caution(
      "best-cut-first",
      `Plants were cut in ${listed(cut.map((stand) => stand.plot.code))} only. If the best were cut first, those left look worse than the variety is.`,
    ),
  ];
}

/** A difference that many single plots would turn hangs on none of them: it lies at the edge. */
const mostDecisivePlots = 2;
/** More pairs than this are counted, not named. */
const mostPairsTold = 4;

function aboutDecisive(decisive: DecisivePlot[]): Caution[] {
  const pairs = new Map<string, DecisivePlot[]>();
  for (const one of decisive) {
    const pair = `${one.variety} and ${one.reference}`;
    pairs.set(pair, [...(pairs.get(pair) ?? []), one]);
  }
  const told = [...pairs].slice(0, mostPairsTold).map(([pair, plots]) => {
    const becomes = plots[0].becomesClear ? "becomes clear" : "is no longer clear";
    const codes = [...new Set(plots.map((one) => one.plot))];
    return caution(
      "one-plot-decides",
      codes.length <= mostDecisivePlots
        ? `One plot decides: leave ${codes.join(" or ")} out and the difference between ${pair} ${becomes}.`
        : `The difference between ${pair} lies at the edge: leave out any one of ${codes.length} plots and it ${becomes}.`,
    );
  });
  const left = pairs.size - told.length;
  return left > 0
    ? [
        ...told,
        caution(
          "one-plot-decides",
          `${counted(left, "further difference")} would read otherwise without one plot or another.`,
        ),
      ]
    : told;
}

function aboutComparisons({ record, survival }: Told): Caution[] {
  const { smallestP, differences } = survival;
  return [
    ...(smallestP !== null && smallestP > highestUsefulP
      ? [caution("smallest-p", sayLayoutReach(survival.varieties.length))]
      : []),
    ...(differences.length >= manyComparisons
      ? [
          caution(
            "many-comparisons",
            `${differences.length} comparisons at once: about one in twenty looks clear by luck alone.${record.check === null ? "" : " The limits for all at once are in the working."}`,
          ),
        ]
      : []),
    ...(record.check === null
      ? [caution("no-check", "No variety was named as the check, so every pair is compared.")]
      : []),
  ];
}
