import { describe, expect, it } from "vitest";
import { manyWinters as manyWintersAfresh, proofs as proofsAfresh } from "@/lib/analysis/many-winters";
import type { VarietyInTrial } from "@/lib/analysis/variety-in-trial";
import { keptPooledSurvival } from "@/lib/service/kept-pooled-survival";
import { pooledContrast } from "@/lib/statistics/pooled-contrast";
import { pooledSurvival } from "@/lib/statistics/pooled-survival";
import { inWinter } from "./invented-winters";

/** Pooled once for the same winters. */
const pool = { pool: keptPooledSurvival };
const manyWinters = (variety: string, trials: VarietyInTrial[]) => manyWintersAfresh(variety, trials, pool);
const proofs = (variety: string, trials: VarietyInTrial[]) => proofsAfresh(variety, trials, pool);

const texts = (of: { cautions: { text: string }[] }) => of.cautions.map((one) => one.text).join(" ");

describe("a variety over winters", () => {
  it("with one winter gives that winter's own figure, and another winter with the spread assumed", () => {
    const [found] = manyWinters("Hollin", [inWinter("2025/26", { estimate: 0.75 })]);
    expect(found.value.proof).toMatchObject({ winters: 1, share: { estimate: 0.75, low: 0.55, high: 0.9 } });
    expect([found.plants, found.plots, found.asOf]).toEqual([24, 4, "2026-03-28"]);
    expect(manyWintersAfresh("Hollin", [inWinter("2025/26", { estimate: 0.75 })])).toEqual([found]);
    const alone = pooledSurvival([{ standing: 12, effectivePlants: 16 }], 1, 0.6, 0.95);
    expect(found.value.survival?.pooled).toEqual({
      scale: 1,
      typical: alone.typical,
      another: alone.another,
      spread: alone.spread,
      atLeastFloor: alone.atLeastFloor,
    });
    expect(texts(found)).toContain("One winter; the spread between winters is assumed, not seen.");
  });

  it("pools effective plants of two winters as the checked function does, at both scales", () => {
    const [{ value, plants, plots }] = manyWinters("Hollin", [
      inWinter("2025/26", { estimate: 0.75 }),
      inWinter("2026/27", { estimate: 0.4, effectivePlants: 10 }),
    ]);
    const counts = [
      { standing: 12, effectivePlants: 16 },
      { standing: 4, effectivePlants: 10 },
    ];
    expect(value.proof.share).toEqual(value.survival?.pooled.typical);
    expect([plants, plots]).toEqual([48, 8]);
    expect(value.survival?.pooled.typical).toEqual(pooledSurvival(counts, 1, 0.6, 0.95).typical);
    expect(value.survival?.otherScale.another).toEqual(pooledSurvival(counts, 0.5, 0.6, 0.95).another);
  });

  it("pools yields as logs whose limits are the winter's own, so that one winter gives back its interval", () => {
    const [{ value }] = manyWinters("Hollin", [
      inWinter("2025/26"),
      inWinter("2026/27", { ratio: [0.9, 0.6, 1.35] }),
    ]);
    const [contrast] = value.yields;
    const z = 1.959963984540054;
    expect(contrast.winters[0].estimate + z * contrast.winters[0].se).toBeCloseTo(Math.log(1.5125), 12);
    expect(contrast.pooled).toEqual(pooledContrast(contrast.winters, 0.5, null, 0.95));
    expect(contrast.otherScale.scale).toBe(1);
    expect(contrast.restricted.heterogeneity?.df).toBe(1);
  });

  it("puts no ratio on the log scale that came of a plot without yield, and says which winter that was", () => {
    const wiped = inWinter("2026/27");
    const [{ value }] = manyWinters("Hollin", [
      inWinter("2025/26"),
      { ...wiped, yieldRatio: wiped.yieldRatio && { ...wiped.yieldRatio, isOnLog: false } },
    ]);
    expect(value.yields[0].winters).toHaveLength(1);
    expect(value.yields[0].without).toEqual(["2026/27"]);
  });

  it("proves the same in one figure as in full, without what only the full page shows", () => {
    const trials = [
      inWinter("2025/26"),
      inWinter("2026/27", { share: { coverKinds: [] } }),
      inWinter("2027/28", { share: { tested: false } }),
    ];
    expect(proofs("Hollin", trials)).toEqual(manyWinters("Hollin", trials).map(({ value }) => value.proof));
    expect(proofs("Hollin", [trials[2]])[0]).toMatchObject({ winters: 1, isUntested: true });
  });

  it("never puts unlike covers or unlike times of judging together", () => {
    const found = manyWinters("Hollin", [
      inWinter("2025/26"),
      inWinter("2026/27", { share: { coverKinds: [] } }),
      inWinter("2027/28", { rest: { assessment: "end" } }),
      inWinter("2028/29"),
    ]);
    expect(
      found.map(({ value }) => [value.kind.coverKinds, value.kind.assessment, value.winters.length]),
    ).toEqual([
      [["low tunnel"], "regrowth", 2],
      [["low tunnel"], "end", 1],
      [[], "regrowth", 1],
    ]);
  });

  it("takes two trials of one season as one winter", () => {
    const [found] = manyWinters("Hollin", [
      inWinter("2025/26", { estimate: 0.5 }),
      inWinter("2025/26", { estimate: 0.75, effectivePlants: 8, trial: { trialId: "another bed" } }),
    ]);
    expect(found.value.winters).toEqual([
      { season: "2025/26", trials: 2, standing: 14, effectivePlants: 24 },
    ]);
    expect(found.value.proof.share).toEqual(found.value.survival?.pooled.typical);
    expect(texts(found)).toContain("2 trials of 2025/26 are put together first");
  });

  it("shows and does not count what is still to be decided, was cut short, or stood in a look-see bed", () => {
    const [found] = manyWinters("Hollin", [
      inWinter("2025/26"),
      inWinter("2026/27", { share: { state: "so far" } }),
      inWinter("2027/28", { share: { state: "look-see" } }),
      inWinter("2028/29", { share: { state: "cut short" } }),
      inWinter("2029/30", { share: { state: "no plants", share: null, difference: null } }),
    ]);
    expect(found.value.winters.map((winter) => winter.season)).toEqual(["2025/26"]);
    expect(found.value.lines).toHaveLength(5);
    expect(texts(found)).toMatch(/look-see bed tells dead from alive.*closed before the assessment/);
  });

  it("has nothing to pool where only trials without plants were counted, and nothing at all without a trial", () => {
    const [found] = manyWinters("Hollin", [
      inWinter("2025/26", { ratio: null, share: { state: "no plants", share: null, difference: null } }),
    ]);
    expect(found.value).toMatchObject({ survival: null, proof: { share: null }, yields: [], odds: [] });
    expect(found.plants).toBe(0);
    expect(manyWinters("Hollin", [])).toEqual([]);
    expect(manyWinters("Carrow", [inWinter("2025/26")])).toEqual([]);
  });

  it("marks a winter whose tender check stood, keeps it, and tells the tested winters apart", () => {
    const mild = inWinter("2026/27", { estimate: 1, share: { tested: false } });
    const [both] = manyWinters("Hollin", [inWinter("2025/26", { estimate: 0.5 }), mild]);
    expect(texts(both)).toContain("2026/27: the tender check stood, so hardiness was not tested.");
    expect(both.value.survival?.testedOnly?.typical).toEqual(
      pooledSurvival([{ standing: 8, effectivePlants: 16 }], 1, 0.6, 0.95).typical,
    );
    const [alone] = manyWinters("Hollin", [mild]);
    expect(texts(alone)).toContain("No winter has tested it yet: this figure is of mild winters only.");
    expect(alone.value.survival?.testedOnly).toBeNull();
    const [untold] = manyWinters("Hollin", [inWinter("2025/26", { share: { tested: null } })]);
    expect(texts(untold)).toContain("no tender check was grown");
  });

  it("answers where none stood in any winter, or all, and says that it is no proof; odds cannot be had of them", () => {
    for (const [estimate, words] of [
      [0, "None ever stood"],
      [1, "None was ever lost"],
    ] as const) {
      const [found] = manyWinters("Hollin", [
        inWinter("2025/26", { estimate }),
        inWinter("2026/27", { estimate, effectivePlants: 15.9458556788 }),
      ]);
      const { typical, another } = found.value.survival?.pooled ?? {};
      for (const share of [typical?.low, typical?.high, another?.low, another?.high]) {
        expect(share).toBeGreaterThan(0);
        expect(share).toBeLessThan(1);
      }
      expect(texts(found)).toContain(words);
      expect(found.value.odds).toEqual([]);
    }
  });

  it("asks nothing of a floor that every winter or none comes to", () => {
    for (const survivalFloor of [0, 1, null]) {
      const [{ value }] = manyWinters("Hollin", [inWinter("2025/26", { rest: { survivalFloor } })]);
      expect(value.survival).toMatchObject({ floor: null, pooled: { atLeastFloor: null } });
    }
  });

  it("says that several sowing dates, or plants with a companion and alone, are taken together", () => {
    const [found] = manyWinters("Hollin", [
      inWinter("2025/26", { trial: { together: "sowing" } }),
      inWinter("2026/27", { trial: { together: "companion" } }),
    ]);
    expect(texts(found)).toContain("2025/26: sown on several dates, which are taken together here");
    expect(texts(found)).toContain("2026/27: grown with a companion and alone, which are taken together");
  });

  it("keeps differences from unlike checks apart", () => {
    const other = inWinter("2026/27");
    const [found] = manyWinters("Hollin", [
      inWinter("2025/26"),
      { ...other, yieldRatio: other.yieldRatio && { ...other.yieldRatio, reference: "Carrow" } },
    ]);
    expect(found.value.yields.map((contrast) => contrast.reference)).toEqual(["Pennick", "Carrow"]);
    expect(texts(found)).toContain("differences from unlike checks are not put together");
  });

  it("belongs yields of a trial with several covers to none of them", () => {
    const [share] = inWinter("2025/26").shares;
    const found = manyWinters("Hollin", [
      inWinter("2025/26", { rest: { shares: [share, { ...share, coverKinds: [] }] } }),
    ]);
    expect(found).toHaveLength(2);
    for (const { value } of found) expect(value.yields).toEqual([]);
  });
});
