import { describe, expect, it } from "vitest";
import type {
  Difference,
  Proposal,
  SurvivalOfMain,
  SurvivalOfVariety,
  YieldDifference,
  YieldMean,
} from "@/lib/analysis/finding";
import { sentenceForDifference } from "@/lib/report/sentence-for-difference";
import { sentenceForLosses } from "@/lib/report/sentence-for-losses";
import { sentenceForInteractions, sentenceForTreatments } from "@/lib/report/sentence-for-main";
import {
  sentenceForAnotherWinter,
  sentenceForFloor,
  sentenceForProposal,
} from "@/lib/report/sentence-for-proposal";
import {
  sentenceForCountDifference,
  sentenceForScoreDifference,
  sentenceForScores,
} from "@/lib/report/sentence-for-traits";
import { sentenceForVariety } from "@/lib/report/sentence-for-variety";
import { sentenceForYield, sentenceForYieldDifference } from "@/lib/report/sentence-for-yield";
import { sentencesForYieldOfMain } from "@/lib/report/sentence-for-yield-main";
import { saySureness, sayTimesInAHundred } from "@/lib/report/sureness";

const hollin: SurvivalOfVariety = {
  variety: "Hollin",
  plots: 3,
  plants: 24,
  standing: 21,
  censored: 0,
  estimate: 0.875,
  low: 0.69,
  high: 0.957,
  effectivePlants: 17.8,
};

describe("the sentence for a variety", () => {
  it("says how many of how many stood and how far that carries", () => {
    expect(sentenceForVariety(hollin)).toBe(
      "Hollin: 21 of 24 stood; somewhere between 69 and 96 in a hundred would in this bed.",
    );
  });

  it("uses the verb of the step", () => {
    expect(sentenceForVariety(hollin, "took")).toContain("21 of 24 took;");
    expect(sentenceForVariety(hollin, "wintered")).toContain("21 of 24 wintered;");
  });

  it("does not promise for ever when none was lost", () => {
    expect(sentenceForVariety({ ...hollin, standing: 24, estimate: 1, low: 0.83, high: 1 })).toBe(
      "Hollin: all 24 stood; up to about 3 in 18 could still be lost.",
    );
    expect(
      sentenceForVariety({
        ...hollin,
        plants: 3,
        standing: 3,
        estimate: 1,
        low: 0.36,
        high: 1,
        effectivePlants: 2.2,
      }),
    ).toBe("Hollin: all 3 stood, but they are too few to rule out losing 64 in a hundred.");
  });

  it("says at most how many would stand when all were lost", () => {
    expect(sentenceForVariety({ ...hollin, standing: 0, estimate: 0, low: 0, high: 0.176 })).toBe(
      "Hollin: none of 24 stood; at most about 18 in a hundred would stand in this bed.",
    );
  });

  it("keeps plants that were taken out apart from losses", () => {
    expect(sentenceForVariety({ ...hollin, censored: 2, standing: 20 })).toContain(
      "20 of 22 stood (2 more taken out, not lost);",
    );
    expect(sentenceForVariety({ ...hollin, censored: 24, standing: 0 })).toContain("nothing can be said");
  });

  it("says so when there is nothing to judge by", () => {
    expect(
      sentenceForVariety({ ...hollin, plants: 0, standing: 0, estimate: null, low: null, high: null }),
    ).toBe("Hollin: no plants to judge by.");
  });
});

const difference: Difference = {
  variety: "Pennick",
  reference: "Hollin",
  estimate: 0.375,
  low: 0.09,
  high: 0.6,
  lowFamily: null,
  highFamily: null,
  p: 0.02,
  pFamily: 0.04,
};

describe("the sentence for a difference", () => {
  it("says clearly when the limits lie on one side", () => {
    expect(sentenceForDifference(difference)).toBe(
      "Pennick stood clearly better than Hollin: 38 more in a hundred, somewhere between 9 and 60 more.",
    );
    expect(sentenceForDifference({ ...difference, estimate: -0.5, low: -0.71, high: -0.22 })).toBe(
      "Pennick stood clearly worse than Hollin: 50 fewer in a hundred, somewhere between 22 and 71 fewer.",
    );
  });

  it("never turns limits on both sides into a finding that there is none", () => {
    const said = sentenceForDifference({ ...difference, low: -0.11, high: 0.48 });
    expect(said).toBe(
      "No clear difference between Pennick and Hollin: Pennick kept anything from 11 fewer to 48 more in a hundred.",
    );
    expect(said).not.toMatch(/no difference/i);
  });

  it("says that what is missing cannot be compared", () => {
    expect(sentenceForDifference({ ...difference, estimate: null, low: null, high: null })).toBe(
      "Pennick and Hollin cannot be compared.",
    );
  });
});

const mean: YieldMean = {
  variety: "Pennick",
  plots: 4,
  mean: 141.37,
  se: 9.8,
  df: 12,
  low: 120,
  high: 162.7,
};
const yieldDifference: YieldDifference = {
  variety: "Pennick",
  reference: "Hollin",
  estimate: 23.2,
  se: 13.9,
  df: 12,
  low: -14,
  high: 60.1,
  p: 0.2,
  ratio: 1.2,
  ratioLow: 0.91,
  ratioHigh: 1.55,
  plotsWipedOut: 0,
};

describe("the sentences for yield", () => {
  it("gives the mean with the precision that its standard error allows", () => {
    expect(sentenceForYield(mean, "plant", "g")).toBe(
      "Pennick gave 141.4 g a plant set out over 4 plots, somewhere between 120.0 and 162.7.",
    );
    expect(sentenceForYield({ ...mean, plots: 1, se: null, low: null, high: null }, "m2", "g")).toBe(
      "Pennick gave 141 g a square metre over 1 plot; how far that can be trusted cannot be worked out.",
    );
  });

  it("never says that less than nothing may have been picked", () => {
    expect(sentenceForYield({ ...mean, low: -3 }, "plant", "g")).toContain("between 0.0 and");
  });

  it("prefers the multiple of the check, clear or not", () => {
    expect(sentenceForYieldDifference(yieldDifference, "g")).toBe(
      "No clear difference in yield between Pennick and Hollin: Pennick gave somewhere between 0.91 and 1.55 times as much.",
    );
    expect(sentenceForYieldDifference({ ...yieldDifference, ratioLow: 1.02 }, "g")).toBe(
      "Pennick clearly out-yielded Hollin: 1.20 times as much, somewhere between 1.02 and 1.55 times.",
    );
  });

  it("falls back to the difference and tells of plots that yielded nothing", () => {
    const bare = { ...yieldDifference, ratio: null, ratioLow: null, ratioHigh: null, plotsWipedOut: 2 };
    expect(sentenceForYieldDifference(bare, "g")).toBe(
      "No clear difference in yield between Pennick and Hollin: Pennick gave anything from 14 g less to 60 g more. 2 plots of Pennick yielded nothing.",
    );
    expect(sentenceForYieldDifference({ ...bare, low: 4, plotsWipedOut: 0 }, "g")).toBe(
      "Pennick clearly yielded more than Hollin: 23 g, somewhere between 4 g more and 60 g more.",
    );
  });
});

describe("the sentences for losses, floors and proposals", () => {
  it("lists what took plants, most first, and leaves nothing out", () => {
    const loss = { low: 0, high: 1, share: 0.1, variety: "Hollin" };
    expect(
      sentenceForLosses("Hollin", [
        { ...loss, cause: "slugs", plants: 3 },
        { ...loss, cause: "cold", plants: 7 },
        { ...loss, cause: "no-sign", plants: 2 },
        { ...loss, cause: "birds", plants: 0 },
      ]),
    ).toBe("Hollin lost 12: cold 7, slugs 3, gone without a sign 2.");
    expect(sentenceForLosses("Carrow", [])).toBe("Carrow lost none.");
  });

  it("uses the same words upwards and downwards", () => {
    expect([0.97, 0.95, 0.8, 0.6, 0.5, 0.4, 0.2, 0.05, 0].map(saySureness)).toEqual([
      "is almost certainly met (97 times in 100)",
      "is almost certainly met (95 times in 100)",
      "is very probably met (80 times in 100)",
      "is probably met (60 times in 100)",
      "may or may not be met (50 times in 100)",
      "is probably missed (met 40 times in 100)",
      "is very probably missed (met 20 times in 100)",
      "is almost certainly missed (met 5 times in 100)",
      "is almost certainly missed (met less than once in 100)",
    ]);
  });

  it("never says always or never of a probability", () => {
    expect([1, 0.999, 0.94, 0.011, 0].map(sayTimesInAHundred)).toEqual([
      "more than 99 times in 100",
      "more than 99 times in 100",
      "94 times in 100",
      "once in 100",
      "less than once in 100",
    ]);
  });

  it("sets the evidence on a floor beside the floor", () => {
    expect(sentenceForFloor({ of: "survival", floor: 0.7, probability: 0.93 })).toBe(
      "The survival floor of 70 in a hundred is very probably met (93 times in 100).",
    );
    expect(sentenceForFloor({ of: "yield", floor: 0.9, probability: null })).toBe(
      "The yield floor of 0.90 times the check cannot be judged from this record.",
    );
  });

  it("says what holds a proposal down and what would settle it", () => {
    const open: Proposal = {
      variety: "Carrow",
      choice: "try once more",
      onFigures: "try once more",
      floors: [{ of: "survival", floor: 0.6, probability: 0.7 }],
      barredBy: null,
      cappedBy: null,
      depends: false,
      winters: 1,
      reasons: [],
      settledBy: { plots: 4, plantsPerPlot: 6 },
    };
    expect(sentenceForProposal(open)).toBe(
      "Carrow: the rule proposes “try once more”. About 4 more plots of 6 plants would settle it, if they went as these.",
    );
    expect(sentenceForProposal({ ...open, settledBy: null })).toContain("no number of plots");
    const well: Proposal = { ...open, onFigures: "grow again", settledBy: null };
    const first = "this is its first winter here, and a verdict rests on two";
    expect(sentenceForProposal({ ...well, cappedBy: first })).toBe(
      "Carrow: the rule proposes “try once more”. By the figures alone it would be “grow again”, but this is its first winter here, and a verdict rests on two. Another winter that goes like this one would settle it.",
    );
    const stood = "the tender check stood";
    expect(sentenceForProposal({ ...well, barredBy: stood, cappedBy: stood })).toBe(
      "Carrow: the rule proposes “try once more”. By the figures alone it would be “grow again”, but the tender check stood.",
    );
    expect(sentenceForProposal({ ...well, choice: "grow again", winters: 2 })).toBe(
      "Carrow: the rule proposes “grow again”. That rests on 2 winters.",
    );
  });

  it("says what another winter may bring, and how little one winter knows of it", () => {
    expect(sentenceForAnotherWinter(0.71, 1)).toBe(
      "In another winter it would be met 71 times in 100, going by this one alone; how far winters differ is assumed, not seen here.",
    );
    expect(sentenceForAnotherWinter(0.71, 3)).toContain("going by 3 winters here");
  });
});

describe("the sentences for covers, scores and counts", () => {
  it("only describes covers that stood on too few main plots", () => {
    const difference = { a: "fleece", b: "net", estimate: 0.32, low: null, high: null };
    expect(sentenceForTreatments(difference)).toBe(
      "Under fleece, 32 more in a hundred stood than under net. On so few main plots that is described, not tested.",
    );
    expect(sentenceForTreatments({ ...difference, low: -0.1, high: 0.6 })).toBe(
      "No clear difference between plants under fleece and plants under net: anything from 10 fewer to 60 more in a hundred stood under fleece.",
    );
    expect(sentenceForTreatments({ ...difference, low: 0.05, high: 0.5 })).toBe(
      "Under fleece, clearly 32 more in a hundred stood than under net, somewhere between 5 more and 50 more.",
    );
    expect(sentenceForTreatments({ ...difference, b: "open ground", low: 0.05, high: 0.5 })).toBe(
      "Under fleece, clearly 32 more in a hundred stood than in the open, somewhere between 5 more and 50 more.",
    );
    const sown = { a: "sown 2026-08-14", b: "sown 2026-09-01", estimate: -0.2, low: -0.4, high: -0.1 };
    expect(sentenceForTreatments(sown)).toBe(
      "Sown Fri 14 Aug 2026, clearly 20 fewer in a hundred stood than sown Tue 1 Sep 2026, somewhere between 40 fewer and 10 fewer.",
    );
  });

  it("says what covers did to the yield, and when that is not clear", () => {
    const mean = { treatment: "fleece", plots: 12, mean: 5.27, se: 0.2, df: 3, low: 4.63, high: 5.91 };
    const pair = {
      a: "fleece",
      b: "open ground",
      estimate: 0.76,
      se: 0.14,
      df: 3,
      low: 0.3,
      high: 1.22,
      p: 0.01,
    };
    const told = (low: number) =>
      sentencesForYieldOfMain(
        { factor: "cover", means: [mean], pairs: [{ ...pair, low }], cells: [] },
        { per: "plant", unit: "g" },
      );
    expect(told(0.3)).toEqual([
      "Under fleece, the yield was 5.27 g a plant set out over 12 plots, somewhere between 4.63 and 5.91.",
      "Under fleece, the yield was clearly higher than in the open: by 0.76 g a plant set out, somewhere between 0.30 more and 1.22 more.",
    ]);
    expect(told(-0.1)[1]).toBe(
      "No clear difference in yield between plants under fleece and plants in the open: anything from 0.10 less to 1.22 more, in g a plant set out, under fleece.",
    );
  });

  it("says where a variety's difference depends on the cover, and when that is not clear", () => {
    const interaction = { variety: "Carrow", reference: "Hollin", a: "fleece", b: "net", estimate: 0.6 };
    const told = (interactions: SurvivalOfMain["interactions"]) =>
      sentenceForInteractions({ factor: "cover", interactions });
    expect(told([{ ...interaction, low: 0.2, high: 0.9 }])).toBe(
      "Against Hollin, Carrow clearly does 60 in a hundred better under fleece than under net.",
    );
    expect(told([{ ...interaction, low: -0.2, high: 0.9 }])).toContain("is not clear");
  });

  it("says scores as how often the one is the higher, and counts as multiples", () => {
    const superiority = {
      variety: "Pennick",
      reference: "Hollin",
      superiority: 0.7,
      z: 1,
      p: 0.3,
      pFamily: 0.3,
    };
    expect(sentenceForScoreDifference({ ...superiority, low: 0.4, high: 0.9 }, 6)).toBe(
      "No clear difference in score between Pennick and Hollin: Pennick is the higher somewhere between 40 and 90 times in 100.",
    );
    expect(sentenceForScoreDifference({ ...superiority, low: 0.6, high: 0.9 }, 6)).toContain(
      "clearly scores higher",
    );
    expect(sentenceForScoreDifference({ ...superiority, low: 0.6, high: 0.9 }, 4)).toBe(
      "Pennick scored higher than Hollin in this bed; 4 plots of each are too few to call that clear.",
    );
    expect(
      sentenceForScores({ variety: "Pennick", plots: 3, median: 6, lowest: 5, highest: 7.5 }, "score"),
    ).toBe("Pennick: 6 in the middle of 3 plots, from 5 to 7.5.");
    const ratio = { variety: "Pennick", reference: "Hollin", ratio: 2, p: 0.1, pFamily: 0.1 };
    expect(sentenceForCountDifference({ ...ratio, low: 0.8, high: 5 })).toBe(
      "No clear difference between Pennick and Hollin: Pennick had somewhere between 0.80 and 5.00 times as many.",
    );
    expect(sentenceForCountDifference({ ...ratio, low: null, high: null })).toContain("cannot be compared");
  });
});
