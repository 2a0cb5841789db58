import { describe, expect, it } from "vitest";
import { ownScatter } from "@/lib/service/own-scatter";
import { proposeTrial } from "@/lib/service/propose-trial";
import { sketchTrial } from "@/lib/service/sketch-trial";
import { trialFindings } from "@/lib/service/trial-findings";
import type { Day } from "@/lib/words/day";
import { given, houseWithTrial, send, someFact, somePlan } from "./fresh-house";

describe("scatter of a garden's own trials", () => {
  it("is not known before one has been looked at, and the usual is taken and said", () => {
    const { house } = houseWithTrial();
    expect(ownScatter(house, "mustard greens")).toBeUndefined();
    expect(given(sketchTrial(somePlan())).tells.taken).toContain(
      "correlation of 0.1 (a usual figure; no trial of yours says better yet)",
    );
  });

  it("is the one trial's own where there is one, and says so", () => {
    const { house, trialId, trial } = houseWithTrial();
    const stands = trial.plots.map((plot, index) =>
      someFact(plot.id, { amount: index % 4 === 0 ? 0 : 3, seenOn: "2026-10-11" as Day }),
    );
    send(house, stands);
    const scatter = ownScatter(house, "Mustard Greens");
    const survival = trialFindings(house, trialId)?.survival?.value;
    expect(survival?.df).toBe(6);
    expect(scatter).toEqual({ icc: survival?.icc, cv: null, from: "your own trial of Mustard Greens" });
    const sentence = given(sketchTrial(somePlan(), scatter)).tells.taken;
    expect(sentence).toContain("(from your own trial of Mustard Greens)");
    expect(sentence).toContain("25 in 100 (common practice; no trial of yours says better yet)");
    const beds = [{ name: "West bed", widthMm: 1_200, lengthMm: 6_000 }];
    const { design: _, ...beginning } = somePlan({ beds });
    const usual = given(sketchTrial(somePlan({ beds })));
    const proposed = given(proposeTrial(house, beginning)).plans.find(
      (plan) => plan.blocks === 4 && plan.plantsPerPlot > 1,
    );
    expect(proposed?.tells.taken).toContain("from your own trial");
    expect(usual.tells.taken).toContain("(a usual figure");
    expect(ownScatter(house, "kale")).toBeUndefined();
  });
});
