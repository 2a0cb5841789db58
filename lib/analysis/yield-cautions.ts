import { sayDay } from "@/lib/words/day";
import { caution, counted, inOrder, listed } from "./caution-order";
import type { Caution, YieldAnalysis } from "./finding";
import type { TrialRecord } from "./trial-record";
import type { TrialPicks } from "./yield-plots";

const fewestResidualDf = 6;
const manyComparisons = 6;

/** What to beware of in the yield figures, the most important first. */
export function yieldCautions(record: TrialRecord, analysis: YieldAnalysis, picks: TrialPicks): Caution[] {
  return inOrder([
    ...aboutPlots(analysis),
    ...aboutPicks(picks),
    ...aboutDf(analysis),
    ...aboutRatios(record, analysis, picks),
    ...aboutScale(analysis),
  ]);
}

function aboutPlots({ varieties, working }: YieldAnalysis): Caution[] {
  const single = varieties.filter((variety) => variety.plots === 1).map((variety) => variety.variety);
  const none = varieties.filter((variety) => variety.mean === null).map((variety) => variety.variety);
  const decisive = working.leaveOneOut.filter((left) => left.turns);
  return [
    ...(single.length > 0
      ? [
          caution(
            "one-plot-a-variety",
            `${listed(single)} had one plot weighed: one plot cannot tell a variety from its spot.`,
          ),
        ]
      : []),
    ...(none.length > 0
      ? [caution("not-estimable", `${listed(none)}: no yield can be given from the plots weighed.`)]
      : []),
    ...decisive.map((left) =>
      caution(
        "one-plot-decides",
        `One plot decides: leave ${left.plot} out and the yield of ${left.variety} against the check reads otherwise.`,
      ),
    ),
  ];
}

function aboutPicks({ plots, leftOut }: TrialPicks): Caution[] {
  const missed = plots.filter((own) => own.missedOn.length > 0);
  return [
    ...(missed.length > 0
      ? [
          caution(
            "not-picked",
            `Not picked on a trial pick, and so left out: ${missed
              .map((own) => `${own.plot.code} (${own.missedOn.map((day) => sayDay(day)).join(", ")})`)
              .join(", ")}.`,
          ),
        ]
      : []),
    ...(leftOut.length > 0
      ? [
          caution(
            "kitchen-picks",
            `Left out of the comparison, since not every plot was asked for: ${leftOut
              .map((pick) => `${sayDay(pick.day)} (${counted(pick.plots, "plot")})`)
              .join(", ")}.`,
          ),
        ]
      : []),
  ];
}

function aboutDf({ residualDf, differences }: YieldAnalysis): Caution[] {
  return [
    ...(residualDf === 0
      ? [
          caution(
            "no-residual-df",
            "No plots to spare: this bed cannot show how much plots of one variety differ, so no limits can be given for yield.",
          ),
        ]
      : residualDf < fewestResidualDf
        ? [
            caution(
              "few-residual-df",
              `Only ${counted(residualDf, "degree")} of freedom to judge the scatter of yields by: the limits are wide and lean on few plots.`,
            ),
          ]
        : []),
    ...(differences.length >= manyComparisons
      ? [
          caution(
            "many-comparisons",
            `${differences.length} comparisons with the check at once: their limits are made for all of them together.`,
          ),
        ]
      : []),
  ];
}

function aboutRatios(
  record: TrialRecord,
  { differences, varieties }: YieldAnalysis,
  picks: TrialPicks,
): Caution[] {
  const wiped = differences.filter((difference) => difference.plotsWipedOut > 0);
  const plotsOf = (name: string) => varieties.find((variety) => variety.variety === name)?.plots ?? 0;
  const without = differences.filter(
    (difference) => difference.ratio === null && difference.estimate !== null,
  );
  const none = picks.plots.every((own) => own.totalG === 0);
  return [
    ...wiped.map((difference) =>
      caution(
        "wiped-out",
        `${difference.variety}: ${difference.plotsWipedOut} of ${plotsOf(difference.variety)} plots wiped out, counted as 0 g.`,
      ),
    ),
    ...(none ? [caution("not-estimable", "No plot yielded anything.")] : []),
    ...(without.length > 0 && !none
      ? [
          caution(
            "no-ratio",
            `${listed(without.map((difference) => difference.variety))}: no multiple of ${record.check} can be given, so read the difference.`,
          ),
        ]
      : []),
    ...(record.check === null
      ? [caution("no-check", "No variety was named as the check, so every pair is compared.")]
      : []),
  ];
}

function aboutScale({ per }: YieldAnalysis): Caution[] {
  return per === "standing"
    ? [
        caution(
          "standing-only",
          "Per plant standing says nothing of the plants that were lost; plots without any are left out.",
        ),
      ]
    : [];
}
