import { describe, expect, it } from "vitest";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import type { RecordPlot } from "@/lib/analysis/trial-record";
import { effectivePlants } from "@/lib/statistics/effective-plants";
import { instantOf } from "@/lib/words/instant";
import { blocksOf, counted, day, fact, inventedRecord, picked } from "./invented-record";

const march = day("2027-03-01");
const october = day("2026-10-01");
const rule = {
  version: 1,
  survivalFloor: 0.5,
  yieldFloor: null,
  sureness: 0.8,
  qualities: [],
  reason: null,
  setAt: instantOf(0),
};

/** Covers on main plots, varieties within: block letter, cover number, place. */
function splitPlots(covers: string[], varieties: string[], blocks: number): RecordPlot[] {
  return Array.from({ length: blocks }, (_, block) =>
    covers.flatMap((cover, main) =>
      varieties.map((variety, place): RecordPlot => {
        const code = `${"ABCDEFGH"[block]}${main + 1}${place + 1}`;
        return {
          ...blocksOf([variety], 1, 8)[0],
          id: code,
          code,
          block: String(block + 1),
          mainPlot: String(main + 1),
          cover,
        };
      }),
    ),
  ).flat();
}

const covers = ["net", "fleece"];
const varieties = ["Pennick", "Hollin", "Carrow"];
/** Fleece saves Carrow and does little for the others. */
const standing: Record<string, number[]> = {
  "net Pennick": [7, 6, 8],
  "net Hollin": [5, 4, 6],
  "net Carrow": [1, 2, 0],
  "fleece Pennick": [8, 7, 8],
  "fleece Hollin": [6, 5, 7],
  "fleece Carrow": [7, 8, 6],
};

function splitRecord(blocks: number) {
  const plots = splitPlots(covers, varieties, blocks);
  const counts = Object.fromEntries(
    plots.map((plot) => [plot.id, standing[`${plot.cover} ${plot.variety}`][Number(plot.block) - 1]]),
  );
  return inventedRecord({ design: "split-plot", plots, check: "Hollin", facts: counted(march, counts) });
}

describe("covers on main plots", () => {
  it("compares varieties within covers as plots with the main plot as block", () => {
    const record = splitRecord(3);
    const main = analyseTrial(record, { withoutRedealing: true }).survival?.value.main;
    expect(main?.cells).toHaveLength(6);
    const byHand = effectivePlants(
      record.plots.map((plot) => ({
        variety: `${plot.cover} ${plot.variety}`,
        block: `${plot.block} ${plot.mainPlot}`,
        row: null,
        column: null,
        setOut: 8,
        standing: standing[`${plot.cover} ${plot.variety}`][Number(plot.block) - 1],
      })),
      "rcbd",
      0.95,
    );
    const carrow = main?.cells.find((cell) => cell.treatment === "net" && cell.variety === "Carrow");
    const twin = byHand.varieties.find((one) => one.variety === "net Carrow");
    expect(carrow).toMatchObject({ plots: 3, plants: 24, standing: 3 });
    expect(carrow?.effectivePlants).toBeCloseTo(twin?.effectivePlants as number, 10);
  });

  it("compares covers on their few main plots, and says how little that tells", () => {
    const { survival } = analyseTrial(splitRecord(3), { withoutRedealing: true });
    const [difference] = survival?.value.main?.differences ?? [];
    expect(difference).toMatchObject({ a: "fleece", b: "net" });
    expect(difference.estimate).toBeCloseTo(62 / 72 - 39 / 72, 12);
    expect(difference.low as number).toBeLessThan(difference.estimate as number);
    expect(survival?.value.main?.df).toBe(2);
    expect(survival?.cautions.find((one) => one.code === "few-main-plots")?.text).toMatch(
      /^Covers are compared on 2 degrees of freedom; expect to see only differences above about \d+ in a hundred/,
    );
  });

  it("only describes covers where there are two blocks", () => {
    const { survival } = analyseTrial(splitRecord(2), { withoutRedealing: true });
    expect(survival?.value.main?.differences[0]).toMatchObject({ low: null, high: null });
    expect(survival?.value.main?.differences[0].estimate).not.toBeNull();
    expect(survival?.cautions.find((one) => one.code === "few-main-plots")?.text).toContain(
      "described, not tested",
    );
  });

  it("shows that a variety's difference depends on the cover", () => {
    const { survival } = analyseTrial(splitRecord(3), { withoutRedealing: true });
    const carrow = survival?.value.main?.interactions.find((one) => one.variety === "Carrow");
    expect(carrow).toMatchObject({ reference: "Hollin", a: "fleece", b: "net" });
    expect(carrow?.estimate).toBeCloseTo(21 / 24 - 18 / 24 - (3 / 24 - 15 / 24), 12);
    expect(carrow?.low as number).toBeGreaterThan(0);
  });

  it("reads a file in which the varieties are on the main plots and the covers within", () => {
    const plots = splitPlots(varieties, covers, 3).map((plot) => ({
      ...plot,
      variety: plot.cover as string,
      cover: plot.variety,
    }));
    const counts = Object.fromEntries(
      plots.map((plot) => [plot.id, standing[`${plot.cover} ${plot.variety}`][Number(plot.block) - 1]]),
    );
    const facts = [
      ...counted(march, counts),
      ...picked(march, Object.fromEntries(plots.map((plot, place) => [plot.id, 100 + place * 7]))),
    ];
    const findings = analyseTrial(inventedRecord({ design: "split-plot", plots, check: "Hollin", facts }));
    const carrow = findings.survival?.value.varieties.find((one) => one.variety === "Carrow");
    expect(carrow).toMatchObject({ plots: 6, plants: 48, standing: 24 });
    expect(findings.yield?.value.anova.map((row) => row.term)).toEqual([
      "block",
      "variety",
      "block × variety",
      "cover",
      "variety × cover",
      "residual",
    ]);
  });
});

describe("a look-see bed", () => {
  const names = ["Hollin", "E1", "E2", "Hollin", "E3", "E4", "Hollin"];
  const plots = names.map(
    (variety, place): RecordPlot => ({
      ...blocksOf([variety], 1, 8)[0],
      id: `P${place + 1}`,
      code: `P${place + 1}`,
      block: null,
      row: 1,
      column: place + 1,
    }),
  );
  const record = inventedRecord({
    design: "augmented",
    plots,
    check: "Hollin",
    rule,
    facts: counted(march, { P1: 6, P2: 0, P3: 8, P4: 5, P5: 8, P6: 7, P7: 7 }),
  });

  it("sets each entry against the two checks nearest to it", () => {
    const { survival } = analyseTrial(record, { withoutRedealing: true });
    const differences = survival?.value.differences ?? [];
    expect(survival?.value.lookSee).toBe(true);
    expect(differences.find((one) => one.variety === "E1")?.estimate).toBeCloseTo(0 - 11 / 16, 12);
    expect(differences.find((one) => one.variety === "E4")?.estimate).toBeCloseTo(7 / 8 - 12 / 16, 12);
    expect(survival?.value.df).toBe(2);
  });

  it("tells dead from alive, and proposes nothing to be grown again", () => {
    const { survival, proposals } = analyseTrial(record, { withoutRedealing: true });
    expect(survival?.cautions[0].code).toBe("look-see");
    const choices = new Map(proposals?.value.map((one) => [one.variety, one.choice]));
    expect(choices.get("E1")).toBe("drop");
    expect([...choices.values()]).not.toContain("grow again");
  });
});

describe("causes over time", () => {
  it("adds shares of causes and of those standing up to one", () => {
    const plots = blocksOf(["Pennick", "Hollin"], 2, 8);
    const facts = [
      fact({ plotId: "A1", kind: "loss", cause: "slugs", amount: 2, seenOn: october }),
      fact({ plotId: "B1", kind: "loss", cause: "cold", amount: 3, seenOn: march }),
      fact({ plotId: "A1", kind: "loss", cause: "slugs", amount: 1, seenOn: march }),
    ];
    const { causes, survival } = analyseTrial(inventedRecord({ plots, facts }), { withoutRedealing: true });
    expect(causes?.value).toEqual([
      { variety: "Pennick", cause: "cold", steps: [{ day: march, share: expect.closeTo(3 / 16, 12) }] },
      {
        variety: "Pennick",
        cause: "slugs",
        steps: [
          { day: october, share: expect.closeTo(2 / 16, 12) },
          { day: march, share: expect.closeTo(3 / 16, 12) },
        ],
      },
    ]);
    expect(survival?.value.varieties[0].estimate).toBeCloseTo(10 / 16, 12);
  });
});

describe("scores and counts", () => {
  const plots = blocksOf(["Pennick", "Hollin"], 3, 8);
  const score = (plotId: string, amount: number, seenOn = march) =>
    fact({ plotId, kind: "score", trait: "slug damage", unit: "score", amount, seenOn });

  it("compares scores by plot within blocks, as how often a plot of the variety scores higher", () => {
    const facts = [
      ...["A1", "B1", "C1"].map((plot, place) => score(plot, 5 + place)),
      ...["A2", "B2", "C2"].map((plot, place) => score(plot, 1 + place)),
    ];
    const [scores] = analyseTrial(inventedRecord({ plots, check: "Hollin", facts })).scores;
    expect(scores.value).toMatchObject({ trait: "slug damage", unit: "score", day: march, progress: null });
    expect(scores.value.varieties[0]).toEqual({
      variety: "Pennick",
      plots: 3,
      median: 6,
      lowest: 5,
      highest: 7,
    });
    const [difference] = scores.value.differences;
    expect(difference).toMatchObject({ variety: "Pennick", reference: "Hollin", superiority: 1, high: 1 });
    expect(difference.z as number).toBeGreaterThan(0);
  });

  it("sums scores of several days up as an area, analysed as yield", () => {
    const days = [day("2027-01-01"), day("2027-01-08"), day("2027-01-15")];
    const facts = plots.flatMap((plot) =>
      [0, 2, 6].map((amount, place) =>
        score(plot.id, plot.variety === "Hollin" ? amount : amount / 2, days[place]),
      ),
    );
    const [scores] = analyseTrial(inventedRecord({ plots, check: "Hollin", facts })).scores;
    expect(scores.value.progress?.varieties.map((one) => one.mean)).toEqual([
      expect.closeTo(17.5, 10),
      expect.closeTo(35, 10),
    ]);
    expect(scores.value.progress?.days).toEqual(days);
  });

  it("takes a growth stage for no count of anything", () => {
    const facts = plots.map(({ id }) =>
      fact({ plotId: id, kind: "count", trait: "bbch", unit: "count", amount: 41, seenOn: march }),
    );
    const findings = analyseTrial(inventedRecord({ plots, check: "Hollin", facts }));
    expect([findings.counts, findings.scores]).toEqual([[], []]);
  });

  it("compares counts as rates", () => {
    const grubs = { A1: 8, B1: 12, C1: 20, A2: 4, B2: 6, C2: 10 };
    const facts = Object.entries(grubs).map(([plotId, amount]) =>
      fact({ plotId, kind: "count", trait: "grubs", unit: "count", amount, seenOn: march }),
    );
    const [counts] = analyseTrial(inventedRecord({ plots, check: "Hollin", facts })).counts;
    expect(counts.value).toMatchObject({ trait: "grubs", per: "plant", days: [march] });
    expect(counts.value.differences[0].ratio).toBeCloseTo(2, 8);
    expect(counts.value.varieties.map((one) => one.count)).toEqual([40, 20]);
  });
});

describe("the multiple of the check where a plot was wiped out", () => {
  const plots = blocksOf(["Pennick", "Hollin", "Carrow"], 4, 8);
  const grams = (pennick: number[], hollin: number[]) =>
    Object.fromEntries(
      [0, 1, 2, 3].flatMap((block) => [
        [`${"ABCD"[block]}1`, pennick[block]],
        [`${"ABCD"[block]}2`, hollin[block]],
        [`${"ABCD"[block]}3`, 90 + 3 * block],
      ]),
    );
  const differencesOf = (pennick: number[], hollin: number[]) =>
    analyseTrial(inventedRecord({ plots, check: "Hollin", facts: picked(march, grams(pennick, hollin)) }), {
      yieldPer: "plot",
      withoutRedealing: true,
    }).yield?.value.differences ?? [];

  it("comes from the pair's own plots, while the others keep their logs", () => {
    const [pennick, carrow] = differencesOf([0, 40, 50, 60], [100, 90, 110, 100]);
    expect(pennick.ratio).toBeCloseTo(0.375, 12);
    expect(pennick.ratioLow as number).toBeGreaterThanOrEqual(0);
    expect(pennick.plotsWipedOut).toBe(1);
    expect(carrow.ratio).not.toBeNull();
  });

  it("is not given where the check itself cannot be told from nought, and the difference stands", () => {
    const [pennick] = differencesOf([40, 50, 60, 70], [0, 0, 0, 200]);
    expect(pennick).toMatchObject({ ratio: null, ratioLow: null, ratioHigh: null });
    expect(pennick.estimate).not.toBeNull();
  });

  it("is not given for a variety that yielded nothing anywhere", () => {
    const [pennick] = differencesOf([0, 0, 0, 0], [100, 90, 110, 100]);
    expect(pennick).toMatchObject({ ratio: null, plotsWipedOut: 4 });
  });
});
