import type { Survival, TrialFindings, YieldMean } from "@/lib/analysis/finding";
import { type Day, daysBetween } from "@/lib/words/day";

type Value = number | null;

/** A figure of the screen with the name by which the R script tells its own. */
export type NamedFigure = readonly [name: string, value: number];

/**
 * Every figure of the results that the R script works out again, by name. Left out are what comes of dealing the layout
 * again, scores, counts and the methods that stand beside ours.
 */
export function rFigures(findings: TrialFindings, from: Day | null): NamedFigure[] {
  const steps = [findings.survival, findings.took, findings.wintered].filter((step) => step !== null);
  const all: [string, Value][] = [
    ...steps.flatMap((step) => ofSurvival(step.value)),
    ...ofMain(findings.survival?.value.main ?? null),
    ...(findings.losses?.value ?? []).flatMap((loss) =>
      named(["lost", loss.variety, loss.cause], { share: loss.share, low: loss.low, high: loss.high }),
    ),
    ...(from === null ? [] : ofStanding(findings, from)),
    ...ofYield(findings.yield?.value ?? null),
    ...ofFloors(findings),
  ];
  return all.flatMap(([name, value]): NamedFigure[] => (value === null ? [] : [[name, value]]));
}

function named(parts: string[], values: Record<string, Value>): [string, Value][] {
  return Object.entries(values).map(([part, value]) => [[...parts, part].join("|"), value]);
}

interface Shared {
  estimate: Value;
  low: Value;
  high: Value;
  effectivePlants: Value;
}

function shares({ estimate, low, high, effectivePlants }: Shared): Record<string, Value> {
  return { share: estimate, low, high, effective: effectivePlants };
}

function limits({
  estimate,
  low,
  high,
}: {
  estimate: Value;
  low: Value;
  high: Value;
}): Record<string, Value> {
  return { difference: estimate, low, high };
}

function ofSurvival({ step, icc, varieties, differences }: Survival): [string, Value][] {
  return [
    [`${step}|intra-class correlation`, icc],
    ...varieties.flatMap((one) => named([step, one.variety], shares(one))),
    ...differences.flatMap((one) => {
      const pair = `${one.variety} less ${one.reference}`;
      return [
        ...named([step, pair], limits(one)),
        ...named([step, pair, "all at once"], { low: one.lowFamily, high: one.highFamily }),
      ];
    }),
  ];
}

function ofMain(main: Survival["main"]): [string, Value][] {
  if (!main) return [];
  return [
    ...main.treatments.flatMap((one) => named(["main plots", one.treatment], shares(one))),
    ...main.differences.flatMap((one) => named(["main plots", `${one.a} less ${one.b}`], limits(one))),
    ...main.cells.flatMap((one) => named(["under", `${one.treatment} / ${one.variety}`], shares(one))),
    ...main.interactions.flatMap((one) =>
      named(["depends", `${one.variety} less ${one.reference}`, `${one.a} less ${one.b}`], limits(one)),
    ),
  ];
}

function ofStanding({ standing }: TrialFindings, from: Day): [string, Value][] {
  return (standing?.value ?? []).flatMap(({ variety, steps, meanDays }) => [
    ...steps.flatMap((step) =>
      named(["standing", variety, `day ${daysBetween(from, step.day)}`], {
        share: step.standing,
        low: step.low,
        high: step.high,
      }),
    ),
    [`standing|${variety}|mean days`, meanDays] as [string, Value],
  ]);
}

function means({ mean, se, df, low, high }: Omit<YieldMean, "variety">): Record<string, Value> {
  return { mean, se, df, low, high };
}

function ofYield(analysis: NonNullable<TrialFindings["yield"]>["value"] | null): [string, Value][] {
  if (!analysis) return [];
  const { anova, residualDf, cv, varieties, differences, pairs, main, variance } = analysis;
  // With several errors the terms have each their own test, which the script leaves to the packages.
  const hasOneError = variance.length === 0;
  const pairsOf = (some: typeof pairs, parts: string[]) =>
    some.flatMap(({ a, b, estimate, se, df, low, high, p }) =>
      named([...parts, `${a} less ${b}`], { estimate, se, df, low, high, p }),
    );
  return [
    ...(hasOneError
      ? [
          ...anova
            .filter((row) => row.f !== null)
            .flatMap((row) => named(["yield", "analysis of variance", row.term], { F: row.f, p: row.p })),
          ...named(["yield"], { "residual df": residualDf, "coefficient of variation": cv }),
        ]
      : []),
    ...varieties.flatMap((one) => named(["yield", one.variety], means(one))),
    ...differences.flatMap((one) => {
      const { estimate, se, low, high, p } = one;
      return [
        ...named(["yield", `${one.variety} less ${one.reference}`], { estimate, se, low, high, p }),
        ...(one.ratioLow === null
          ? []
          : named(["yield", "times the check", one.variety], {
              ratio: one.ratio,
              low: one.ratioLow,
              high: one.ratioHigh,
            })),
      ];
    }),
    ...pairsOf(pairs, ["yield", "pair"]),
    ...(main
      ? [
          ...main.means.flatMap((one) => named(["yield", "main plots", one.treatment], means(one))),
          ...main.cells.flatMap((one) => named(["yield", "under", one.treatment, one.variety], means(one))),
          ...pairsOf(main.pairs, ["yield", "main plots"]),
        ]
      : []),
  ];
}

/** The floor for yield is judged per plant set out, so only then can the script follow. */
function ofFloors({ proposals, yield: harvest }: TrialFindings): [string, Value][] {
  return (proposals?.value ?? []).flatMap(({ variety, floors }) =>
    floors
      .filter((floor) => floor.of === "survival" || (harvest?.value.per === "plant" && floor.floor > 0))
      .map((floor): [string, Value] => [
        ["floor", variety, floor.of, ...(floor.under ? [floor.under] : [])].join("|"),
        floor.probability,
      ]),
  );
}
