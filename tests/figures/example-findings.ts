import type {
  Finding,
  LossShare,
  PlotResidual,
  StandingCurve,
  Survival,
  YieldAnalysis,
} from "@/lib/analysis/finding";
import { addDays, type Day } from "@/lib/words/day";

/** Invented findings with typical and with awkward shapes, for looking at figures; no analysis made them. */
const common = {
  plants: 120,
  plots: 20,
  asOf: "2027-03-15" as Day,
  method: { name: "invented for the drawing", sources: [] },
  level: 0.95,
  cautions: [],
};

export const exampleSurvival: Finding<Survival> = {
  ...common,
  scale: "share of plants set out",
  value: {
    step: "both",
    icc: 0.12,
    df: 12,
    smallestP: 0.0004,
    varieties: [
      ["Pennick", 21, 0.875, 0.69, 0.955, 17.2],
      ["Hollin", 12, 0.5, 0.29, 0.71, 16.4],
      ["Carrow", 24, 1, 0.83, 1, 18],
      ["Thornlea", 0, 0, 0, 0.18, 18],
      ["Tansy Mill", 17, 17 / 24, 0.48, 0.87, 16.9],
    ].map(([variety, standing, estimate, low, high, effectivePlants]) => ({
      variety: variety as string,
      plots: 4,
      plants: 24,
      standing: standing as number,
      censored: variety === "Tansy Mill" ? 2 : 0,
      estimate: estimate as number,
      low: low as number,
      high: high as number,
      effectivePlants: effectivePlants as number,
    })),
    differences: [
      { variety: "Pennick", estimate: 0.375, low: 0.09, high: 0.6 },
      { variety: "Carrow", estimate: 0.5, low: 0.22, high: 0.71 },
      { variety: "Thornlea", estimate: -0.5, low: -0.71, high: -0.22 },
      { variety: "Tansy Mill", estimate: 0.208, low: -0.11, high: 0.48 },
    ].map((difference) => ({
      ...difference,
      reference: "Hollin",
      p: 0.021,
      pFamily: 0.06,
      lowFamily: null,
      highFamily: null,
    })),
    pairs: [],
    main: null,
    lookSee: false,
    working: {
      dispersion: 1.6,
      effectiveDf: 11,
      clusterSize: 6,
      multipliers: [],
      otherDifferences: [],
      deviance: [],
      logRank: [],
      others: [],
      leaveOneOut: [],
      redealt: null,
    },
  },
};

export const exampleLosses: Finding<LossShare[]> = {
  ...common,
  scale: "share of plants set out",
  value: [
    ["Pennick", "slugs", 2, 0.02, 0.26],
    ["Pennick", "unknown", 1, 0.01, 0.2],
    ["Hollin", "cold", 7, 0.15, 0.5],
    ["Hollin", "slugs", 3, 0.04, 0.31],
    ["Hollin", "no-sign", 2, 0.02, 0.26],
    ["Thornlea", "cold", 15, 0.43, 0.79],
    ["Thornlea", "rot", 8, 0.18, 0.54],
    ["Thornlea", "hungry-goose", 1, 0.01, 0.2],
    ["Tansy Mill", "birds", 5, 0.09, 0.41],
  ].map(([variety, cause, plants, low, high]) => ({
    variety: variety as string,
    cause: cause as string,
    plants: plants as number,
    share: (plants as number) / 24,
    low: low as number,
    high: high as number,
  })),
};

const walkabouts = [0, 14, 28, 42, 63, 84, 105, 126, 147, 168];

function exampleCurve(variety: string, standing: number[]): StandingCurve {
  return {
    variety,
    meanDays: 150,
    halfLostOn: null,
    stretches:
      variety === "Thornlea"
        ? [{ from: "2026-11-01" as Day, to: "2026-12-13" as Day, before: 0.75, after: 0.25 }]
        : [],
    steps: standing.map((count, position) => ({
      day: addDays("2026-09-20" as Day, walkabouts[position]),
      atRisk: position === 0 ? 24 : standing[position - 1],
      standing: count / 24,
      low: position === 0 ? 1 : Math.max(0, count / 24 - 0.16),
      high: Math.min(1, count / 24 + 0.1),
    })),
  };
}

export const exampleStanding: Finding<StandingCurve[]> = {
  ...common,
  scale: "share of plants set out",
  value: [
    exampleCurve("Pennick", [24, 23, 23, 22, 22, 22, 21, 21, 21, 21]),
    exampleCurve("Hollin", [24, 24, 22, 21, 19, 18, 15, 13, 12, 12]),
    exampleCurve("Carrow", [24, 24, 24, 24, 24, 24, 24, 24, 24, 24]),
    exampleCurve("Thornlea", [24, 22, 20, 18, 12, 6, 2, 0, 0, 0]),
    exampleCurve("Tansy Mill", [24, 23, 22, 22, 21, 20, 19, 18, 18, 17]),
  ],
};

export const exampleYield: Finding<YieldAnalysis> = {
  ...common,
  scale: "g per plant set out",
  value: {
    per: "plant",
    unit: "g",
    model: "variety + block",
    cv: 18.2,
    residualDf: 12,
    anova: [],
    varieties: [
      ["Pennick", 141.4, 9.8],
      ["Hollin", 118.2, 9.8],
      ["Carrow", 164.9, 9.8],
      ["Thornlea", 6.1, 9.8],
      ["Tansy Mill", 99.3, 9.8],
    ].map(([variety, mean, se]) => ({
      variety: variety as string,
      plots: 4,
      mean: mean as number,
      se: se as number,
      df: 12,
      low: (mean as number) - 2.18 * (se as number),
      high: (mean as number) + 2.18 * (se as number),
    })),
    differences: [
      ["Pennick", 23.2, 1.2, 0],
      ["Carrow", 46.7, 1.4, 0],
      ["Thornlea", -112.1, null, 3],
      ["Tansy Mill", -18.9, 0.84, 0],
    ].map(([variety, estimate, ratio, wiped]) => ({
      variety: variety as string,
      reference: "Hollin",
      estimate: estimate as number,
      se: 13.9,
      df: 12,
      low: (estimate as number) - 40,
      high: (estimate as number) + 40,
      p: 0.08,
      ratio: ratio as number | null,
      ratioLow: ratio === null ? null : (ratio as number) * 0.8,
      ratioHigh: ratio === null ? null : (ratio as number) * 1.25,
      plotsWipedOut: wiped as number,
    })),
    pairs: [],
    variance: [],
    main: null,
    picks: { days: [], byDay: [], varieties: [] },
    working: {
      residuals: [],
      tukeyOneDf: null,
      lsd: null,
      relativeEfficiency: null,
      welch: null,
      brownForsythe: null,
      kruskalWallis: null,
      friedman: null,
      gamesHowell: [],
      leaveOneOut: [],
      randomisation: [],
    },
  },
};

export const exampleResiduals: PlotResidual[] = [
  -2.4, -1.3, -1.1, -0.8, -0.6, -0.3, -0.1, 0.1, 0.2, 0.5, 0.7, 1, 1.2, 2.9,
].map((studentised, position) => ({
  plot: `A${position + 1}`,
  variety: "Pennick",
  fitted: 60 + ((position * 37) % 110),
  residual: studentised * 14,
  studentised,
  normalScore: -1.7 + (position * 3.4) / 13,
  leverage: 0.3 + (position % 3) * 0.1,
}));

export const exampleSplit: Finding<Survival> = {
  ...exampleSurvival,
  value: {
    ...exampleSurvival.value,
    main: {
      factor: "cover",
      df: 2,
      treatments: [],
      differences: [],
      cells: ["open ground", "fleece"].flatMap((treatment, place) =>
        exampleSurvival.value.varieties.slice(0, 3).map((variety) => ({
          ...variety,
          treatment,
          low: place === 0 ? (variety.low as number) / 2 : variety.low,
        })),
      ),
      interactions: [],
    },
  },
};
