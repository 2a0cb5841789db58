import { describe, expect, it } from "vitest";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import type { Survival } from "@/lib/analysis/finding";
import type { TrialRecord } from "@/lib/analysis/trial-record";
import { instantOf } from "@/lib/words/instant";
import { blocksOf, counted, day, fact, inventedRecord, picked, plantedOn } from "./invented-record";

const varieties = ["Pennick", "Hollin", "Carrow", "Thornlea"];
const march = day("2027-03-01");
const october = day("2026-10-01");

/** The counts of the statistics' own check value: 7,5,8; 4,2,6; 8,7,8; 1,0,3 of 8. */
const checkCounts: Record<string, number> = Object.fromEntries(
  [
    [7, 4, 8, 1],
    [5, 2, 7, 0],
    [8, 6, 8, 3],
  ].flatMap((block, row) => block.map((standing, place) => [`${"ABC"[row]}${place + 1}`, standing] as const)),
);

function checkRecord(given: Partial<TrialRecord> = {}): TrialRecord {
  return inventedRecord({
    plots: blocksOf(varieties, 3, 8),
    check: "Hollin",
    facts: counted(march, checkCounts),
    ...given,
  });
}

function survivalOf(record: TrialRecord): Survival {
  const { survival } = analyseTrial(record);
  if (!survival) throw new Error("no survival");
  return survival.value;
}

function codes(record: TrialRecord): string[] {
  const { cautions, survival, yield: harvest, proposals } = analyseTrial(record);
  return [
    ...cautions,
    ...(survival?.cautions ?? []),
    ...(harvest?.cautions ?? []),
    ...(proposals?.cautions ?? []),
  ].map((caution) => caution.code);
}

describe("survival of a trial", () => {
  it("gives the check value of the effective-plant interval", () => {
    const { varieties: told, df } = survivalOf(checkRecord());
    expect(df).toBe(6);
    expect(told[0]).toMatchObject({ variety: "Pennick", plots: 3, plants: 24, standing: 20 });
    expect(told[0].effectivePlants).toBeCloseTo(15.9458556788, 9);
  });

  it("says nothing, rather than all standing, before anybody has looked", () => {
    const findings = analyseTrial(checkRecord({ facts: [] }));
    expect(findings.survival).toBeNull();
    expect(findings.at).toBeNull();
    expect(findings.cautions.map((caution) => caution.code)).toContain("not-estimable");
  });

  it("is the same whatever the order in which facts arrived", () => {
    const record = checkRecord();
    const shuffled = { ...record, facts: [...record.facts].reverse() };
    expect(analyseTrial(shuffled)).toEqual(analyseTrial(record));
  });

  it("compares with the check, and every pair where there is none", () => {
    expect(survivalOf(checkRecord()).differences.map((one) => one.variety)).toEqual([
      "Pennick",
      "Carrow",
      "Thornlea",
    ]);
    expect(survivalOf(checkRecord({ check: null })).differences).toHaveLength(6);
    expect(codes(checkRecord({ check: null }))).toContain("no-check");
  });

  it("makes wider limits for all comparisons with the check at once", () => {
    for (const difference of survivalOf(checkRecord()).differences) {
      expect(difference.lowFamily as number).toBeLessThan(difference.low as number);
      expect(difference.highFamily as number).toBeGreaterThan(difference.high as number);
    }
  });

  it("never gives a randomisation p below the smallest that the layout can give", () => {
    const { smallestP, differences } = survivalOf(checkRecord());
    expect(smallestP).toBeCloseTo(6 / 12 ** 3, 12);
    for (const difference of differences)
      expect(difference.pFamily as number).toBeGreaterThanOrEqual(smallestP as number);
  });

  it("leaves out a plot that nobody counted while the others were counted", () => {
    const { A1: _, ...counts } = checkCounts;
    const record = checkRecord({ facts: counted(march, counts) });
    expect(survivalOf(record).varieties[0]).toMatchObject({ plots: 2, plants: 16, standing: 13 });
    expect(codes(record)).toContain("never-seen");
  });

  it("takes plots without losses as standing where only losses are noted", () => {
    const facts = [fact({ plotId: "A2", kind: "loss", cause: "slugs", amount: 3, seenOn: march })];
    const { varieties: told } = survivalOf(checkRecord({ facts }));
    expect(told.map((one) => one.standing)).toEqual([24, 21, 24, 24]);
  });

  it("keeps plants that were cut out of both standing and lost", () => {
    const facts = [
      fact({ plotId: "A1", kind: "removed", cause: "cut", amount: 2, seenOn: october }),
      ...counted(march, { ...checkCounts, A1: 5 }),
    ];
    const record = checkRecord({ facts });
    const [pennick] = survivalOf(record).varieties;
    expect(pennick).toMatchObject({ plants: 24, censored: 2, standing: 18 });
    // 24 at risk, 2 taken out in October, 22 watched when 4 were found lost in March.
    expect(pennick.estimate).toBeCloseTo(18 / 22, 12);
    expect(codes(record)).toContain("best-cut-first");
  });

  it("counts a plot that left the trial as watched until then", () => {
    const record = checkRecord({
      facts: [...counted(october, { A1: 6 }), ...counted(march, { ...checkCounts, A1: 1 })],
      amendments: [{ plotId: "A1", kind: "excluded", fromOn: day("2026-12-01"), reason: "cover blew off." }],
    });
    const [pennick] = survivalOf(record).varieties;
    expect(pennick).toMatchObject({ censored: 6, standing: 13, plants: 24 });
    expect(pennick.estimate).toBeCloseTo((22 / 24) * (13 / 16), 12);
    const { cautions } = analyseTrial(record);
    expect(cautions.find((one) => one.code === "treated-otherwise")?.text).toBe(
      "A1 left the trial on Tue 1 Dec: cover blew off.",
    );
  });

  it("shows survival in two steps whose product is the whole", () => {
    const record = checkRecord({
      assessments: [
        { name: "took", dueOn: october },
        { name: "regrowth", dueOn: march },
      ],
      facts: [
        ...counted(day("2026-10-03"), {
          ...Object.fromEntries(Object.keys(checkCounts).map((plot) => [plot, 8])),
          A1: 7,
          B2: 5,
        }),
        ...counted(march, checkCounts),
      ],
    });
    const { took, wintered, survival } = analyseTrial(record);
    expect(took?.asOf).toBe("2026-10-03");
    expect(took?.value.varieties[0]).toMatchObject({ plants: 24, standing: 23 });
    expect(wintered?.value.varieties[0]).toMatchObject({ plants: 23, standing: 20 });
    took?.value.varieties.forEach((first, place) => {
      const product = (first.estimate as number) * (wintered?.value.varieties[place].estimate as number);
      expect(product).toBeCloseTo(survival?.value.varieties[place].estimate as number, 12);
    });
  });

  it("tells of the last day seen while the deciding assessment is still to come", () => {
    const record = checkRecord({ assessments: [{ name: "regrowth", dueOn: day("2027-04-20") }] });
    const findings = analyseTrial(record);
    expect(findings.at).toBe(march);
    expect(findings.cautions.map((caution) => caution.code)).toContain("to-come");
    const done = checkRecord({ assessments: [{ name: "regrowth", dueOn: day("2027-02-20") }] });
    expect(analyseTrial(done).at).toBe(march);
    expect(analyseTrial(checkRecord(), { at: october }).survival).toBeNull();
  });

  it("warns where one variety stands beside others that nearly all live, or nearly all die, and not otherwise", () => {
    const plots = blocksOf(["Pennick", "Hollin", "Carrow", "Thornlea"], 2, 8);
    const bed = (one: number, others: number) =>
      codes(
        inventedRecord({
          plots,
          check: "Hollin",
          facts: counted(
            march,
            Object.fromEntries(plots.map((plot) => [plot.code, plot.variety === "Carrow" ? one : others])),
          ),
        }),
      );
    expect(bed(4, 8)).toContain("alone-beside-many");
    expect(bed(4, 0)).toContain("alone-beside-many");
    expect(bed(8, 8)).not.toContain("alone-beside-many");
    expect(bed(4, 6)).not.toContain("alone-beside-many");
    const three = blocksOf(["Pennick", "Hollin", "Carrow"], 2, 8);
    const facts = counted(
      march,
      Object.fromEntries(three.map((plot) => [plot.code, plot.variety === "Carrow" ? 4 : 8])),
    );
    expect(codes(inventedRecord({ plots: three, check: "Hollin", facts }))).not.toContain(
      "alone-beside-many",
    );
  });

  it("warns where one plot alone decides", () => {
    const facts = counted(march, { A1: 8, A2: 4, B1: 8, B2: 8, C1: 8, C2: 8, D1: 8, D2: 8 });
    const plots = blocksOf(["Pennick", "Hollin"], 4, 8);
    expect(codes(inventedRecord({ plots, check: "Hollin", facts }))).toContain("none-lost");
    expect(codes(checkRecord())).toContain("one-plot-decides");
  });
});

describe("losses and standing over time", () => {
  const facts = [
    fact({ plotId: "A1", kind: "loss", cause: "slugs", amount: 2, seenOn: october }),
    ...counted(
      october,
      Object.fromEntries(Object.keys(checkCounts).map((plot) => [plot, plot === "A1" ? 6 : 8])),
    ),
    ...counted(march, { ...checkCounts, A1: 5 }),
  ];

  it("lists every loss by cause, the unexplained as unknown", () => {
    const { losses } = analyseTrial(checkRecord({ facts }));
    const own = losses?.value.filter((loss) => loss.variety === "Pennick");
    expect(own?.map(({ cause, plants }) => [cause, plants])).toEqual([
      ["slugs", 2],
      ["unknown", 4],
    ]);
    for (const loss of own ?? []) expect(loss.low as number).toBeLessThan(loss.share as number);
  });

  it("steps the curve down on the day on which a loss was seen, ending at the headline's figure", () => {
    const { standing, survival } = analyseTrial(checkRecord({ facts }));
    const [curve] = standing?.value ?? [];
    expect(curve.steps.map((step) => [step.day, step.standing])).toEqual([
      [plantedOn, 1],
      [october, 22 / 24],
      [march, 18 / 24],
    ]);
    const [headline] = survival?.value.varieties ?? [];
    expect(curve.steps[2].low).toBeCloseTo(headline.low as number, 12);
    expect(curve.steps[2].high).toBeCloseTo(headline.high as number, 12);
  });
});

describe("yield of a trial", () => {
  const plots = blocksOf(["Pennick", "Hollin"], 3, 8);
  const first = day("2026-12-01");
  const second = day("2027-02-01");
  const all = { A1: 80, A2: 40, B1: 100, B2: 60, C1: 96, C2: 48 };

  it("adds up trial picks per plant set out, square metre and plot", () => {
    const record = inventedRecord({
      plots,
      check: "Hollin",
      facts: [...picked(first, all), ...picked(second, all)],
    });
    const mean = (per: "plant" | "m2" | "plot") =>
      analyseTrial(record, { yieldPer: per }).yield?.value.varieties[0].mean;
    expect(mean("plot")).toBeCloseTo(184, 10);
    expect(mean("plant")).toBeCloseTo(23, 10);
    expect(mean("m2")).toBeCloseTo(368, 10);
    expect(analyseTrial(record).yield?.scale).toBe("g per plant set out");
  });

  it("leaves out picks for the kitchen, and says which", () => {
    const facts = [...picked(first, all), ...picked(second, { A1: 500 })];
    const record = inventedRecord({ plots, facts });
    expect(analyseTrial(record, { yieldPer: "plot" }).yield?.value.varieties[0].mean).toBeCloseTo(92, 10);
    expect(codes(record)).toContain("kitchen-picks");
  });

  it("takes not picked as missing and nothing to pick as nought", () => {
    const facts = picked(first, { ...all, A1: null, B1: 0 });
    const record = inventedRecord({ plots, check: "Hollin", facts });
    const { yield: harvest } = analyseTrial(record, { yieldPer: "plot" });
    expect(harvest?.value.varieties[0]).toMatchObject({ plots: 2 });
    expect(harvest?.value.differences[0].plotsWipedOut).toBe(1);
    expect(codes(record)).toEqual(expect.arrayContaining(["not-picked", "wiped-out"]));
  });

  it("takes a plot where nothing stood any more as nought although nobody weighed it", () => {
    const { A1: _, ...others } = all;
    const facts = [
      fact({ plotId: "A1", kind: "loss", cause: "cold", amount: 8, seenOn: october }),
      ...picked(first, others),
    ];
    const { yield: harvest } = analyseTrial(inventedRecord({ plots, check: "Hollin", facts }), {
      yieldPer: "plot",
    });
    expect(harvest?.value.varieties[0]).toMatchObject({ plots: 3 });
    expect(harvest?.value.varieties[0].mean).toBeCloseTo(196 / 3, 10);
  });

  it("counts no pick after the bed was to be cleared, nor after half of a plot's plants ran to flower", () => {
    const facts = [...picked(first, all), ...picked(second, all)];
    const cleared = inventedRecord({ plots, facts, clearBy: day("2027-01-01") });
    expect(analyseTrial(cleared, { yieldPer: "plot" }).yield?.value.varieties[0].mean).toBeCloseTo(92, 10);
    const stems = (amount: number) =>
      fact({
        plotId: "A1",
        kind: "count",
        trait: "first flower stem",
        unit: "count",
        amount,
        seenOn: day("2027-01-01"),
      });
    const bolted = inventedRecord({ plots, facts: [...facts, stems(4)] });
    expect(analyseTrial(bolted, { yieldPer: "plot" }).yield?.value.varieties[0].mean).toBeCloseTo(
      184 - 80 / 3,
      10,
    );
    const hardly = inventedRecord({ plots, facts: [...facts, stems(3)] });
    expect(analyseTrial(hardly, { yieldPer: "plot" }).yield?.value.varieties[0].mean).toBeCloseTo(184, 10);
    expect(analyseTrial(bolted).bolting?.value[0]).toMatchObject({ plotsBolted: 1, firstOn: "2027-01-01" });
  });

  it("has no standard error where there are no plots to spare, and says so", () => {
    const record = inventedRecord({
      plots: blocksOf(["Pennick", "Hollin"], 1, 8),
      check: "Hollin",
      facts: picked(first, { A1: 80, A2: 40 }),
    });
    const { yield: harvest } = analyseTrial(record);
    expect(harvest?.value.varieties[0]).toMatchObject({ mean: 10, se: null, low: null });
    expect(codes(record)).toEqual(expect.arrayContaining(["no-residual-df", "one-plot-a-variety"]));
  });

  it("never gives a number that is none", () => {
    for (const grams of [0, 40]) {
      const same = Object.fromEntries(plots.map((plot) => [plot.id, grams]));
      const text = JSON.stringify(
        analyseTrial(inventedRecord({ plots, check: "Hollin", facts: picked(first, same) })),
        (_, value) => (typeof value === "number" && !Number.isFinite(value) ? "NOT FINITE" : value),
      );
      expect(text).not.toContain("NOT FINITE");
    }
  });
});

describe("what the rule proposes", () => {
  const rule = {
    version: 1,
    survivalFloor: 0.6,
    yieldFloor: null,
    sureness: 0.8,
    qualities: [{ trait: "colour", weight: "must" as const }],
    reason: null,
    setAt: instantOf(0),
  };

  it("proposes nothing without a rule, and says so", () => {
    expect(analyseTrial(checkRecord()).proposals).toBeNull();
    expect(codes(checkRecord())).toContain("rule-missing");
  });

  it("grows again, tries once more or drops by the probability of the floor, and no higher than once more on one winter", () => {
    const { proposals } = analyseTrial(checkRecord({ rule }));
    expect(proposals?.value.map(({ variety, choice, onFigures }) => [variety, choice, onFigures])).toEqual([
      ["Pennick", "try once more", "grow again"],
      ["Hollin", "drop", "drop"],
      ["Carrow", "try once more", "grow again"],
      ["Thornlea", "drop", "drop"],
    ]);
    expect(proposals?.value[0].cappedBy).toBe("this is its first winter here, and a verdict rests on two");
    expect(proposals?.value[0].reasons).toEqual([
      "colour is a must of the rule, which these figures do not judge.",
    ]);
  });

  it("says about how many more plots would settle what is open", () => {
    const { proposals } = analyseTrial(checkRecord({ rule: { ...rule, survivalFloor: 0.78 } }));
    const open = proposals?.value.find((proposal) => proposal.choice === "try once more");
    expect(open?.variety).toBe("Pennick");
    expect(open?.settledBy?.plantsPerPlot).toBe(8);
    expect(open?.settledBy?.plots as number).toBeGreaterThan(0);
  });

  it("proposes nothing to be grown again where the tender check stood", () => {
    const { proposals } = analyseTrial(checkRecord({ rule, tenderCheck: "Carrow" }));
    const pennick = proposals?.value.find((proposal) => proposal.variety === "Pennick");
    expect(pennick).toMatchObject({
      choice: "try once more",
      cappedBy: "the tender check stood, so this winter did not test hardiness",
      settledBy: null,
    });
    expect(proposals?.cautions.map((caution) => caution.code)).toEqual(["tender-stood"]);
    const tested = analyseTrial(checkRecord({ rule, tenderCheck: "Thornlea" }));
    expect(tested.proposals?.value[0]).toMatchObject({ onFigures: "grow again", barredBy: null });
  });

  it("judges a yield floor per plant set out, whatever scale is on show, and never the check by itself", () => {
    const plots = blocksOf(["Pennick", "Hollin"], 4, 8);
    const grams = { A1: 80, A2: 40, B1: 100, B2: 60, C1: 96, C2: 48, D1: 90, D2: 50 };
    const record = inventedRecord({
      plots,
      check: "Hollin",
      facts: picked(march, grams),
      rule: { ...rule, survivalFloor: null, yieldFloor: 0.9 },
    });
    const perPlant = analyseTrial(record).proposals?.value;
    expect(analyseTrial(record, { yieldPer: "m2" }).proposals?.value).toEqual(perPlant);
    expect(perPlant?.[0]).toMatchObject({
      variety: "Pennick",
      onFigures: "grow again",
      cappedBy: "this is its first season here, and a verdict rests on two",
    });
    expect(perPlant?.[1]).toMatchObject({ variety: "Hollin", choice: null, floors: [] });
  });

  it("warns of a rule that came after the data", () => {
    expect(codes(checkRecord({ rule, ruleChangedAfterData: true }))[0]).toBe("rule-changed");
  });
});

describe("cautions of the trial as a whole", () => {
  it("names a cover that cannot be told from the block, or from the variety", () => {
    const plots = blocksOf(varieties, 2, 8);
    const byBlock = plots.map((plot) => ({ ...plot, cover: plot.block === "1" ? "fleece" : null }));
    const byVariety = plots.map((plot) => ({ ...plot, cover: plot.variety === "Pennick" ? "fleece" : null }));
    for (const some of [byBlock, byVariety])
      expect(codes(inventedRecord({ plots: some, facts: counted(march, { A1: 3 }) }))).toContain(
        "confounded",
      );
  });

  it("says that counts above the ledger are to be settled", () => {
    const facts = [...counted(october, { A1: 5 }), ...counted(march, { ...checkCounts, A1: 7 })];
    expect(codes(checkRecord({ facts }))).toContain("unsettled");
  });

  it("says which plots could not be looked at since", () => {
    const facts = [
      ...counted(october, checkCounts),
      fact({ plotId: "A1", kind: "not-seen", unit: null, seenOn: march }),
      ...counted(march, { A2: 4 }),
    ];
    expect(codes(checkRecord({ facts }))).toContain("not-seen-since");
  });
});

describe("plots that were looked at on different days", () => {
  const plots = blocksOf(["Pennick"], 2, 8);
  const november = day("2026-11-10");

  it("tell between which days their losses lie, as far as the record goes", () => {
    const facts = [
      ...counted(october, { A1: 8 }),
      ...counted(november, { A1: 5, B1: 8 }),
      ...counted(march, { A1: 5, B1: 4 }),
    ];
    const [curve] =
      analyseTrial(inventedRecord({ plots, facts }), { withoutRedealing: true }).standing?.value ?? [];
    expect(curve.stretches).toEqual([
      { from: october, to: november, before: 1, after: expect.closeTo(13 / 16, 8) },
      { from: november, to: march, before: expect.closeTo(13 / 16, 8), after: expect.closeTo(9 / 16, 8) },
    ]);
    const common = [...counted(november, { A1: 5, B1: 8 }), ...counted(march, { A1: 5, B1: 4 })];
    const [plain] =
      analyseTrial(inventedRecord({ plots, facts: common }), { withoutRedealing: true }).standing?.value ??
      [];
    expect(plain.stretches).toEqual([]);
  });

  it("stand so many days in the mean", () => {
    const facts = counted(day("2026-09-20"), { A1: 4, B1: 8 }).concat(
      counted(day("2026-09-30"), { A1: 4, B1: 8 }),
    );
    const [curve] =
      analyseTrial(inventedRecord({ plots, facts }), { withoutRedealing: true }).standing?.value ?? [];
    // Planted on 10 September; 4 of 16 were found lost after 10 days, the rest stood all 20.
    expect(curve.meanDays).toBeCloseTo((4 * 10 + 12 * 20) / 16, 10);
    expect(curve.halfLostOn).toBeNull();
    const worse = facts.concat(counted(day("2026-10-10"), { A1: 2, B1: 4 }));
    const [halved] =
      analyseTrial(inventedRecord({ plots, facts: worse }), { withoutRedealing: true }).standing?.value ?? [];
    expect(halved.halfLostOn).toBe("2026-10-10");
  });
});
