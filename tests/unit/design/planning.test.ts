import { describe, expect, it } from "vitest";
import { designMisfits } from "@/lib/design/design-misfits";
import { type FitRequest, fitBed } from "@/lib/design/fit-bed";
import { planCautions } from "@/lib/design/plan-cautions";
import { seedsNeeded } from "@/lib/design/seeds-needed";
import { whatItTells } from "@/lib/design/what-it-tells";
import { effectivePlants } from "@/lib/statistics/effective-plants";
import { newcombeDifference } from "@/lib/statistics/newcombe-difference";
import { type RandomStream, randomStream } from "@/lib/statistics/random-stream";

describe("seeds for so many plants", () => {
  it("are the plants and their spares over what comes up, rounded up", () => {
    expect(seedsNeeded(12, 0.25, 0.8)).toBe(19);
    expect(seedsNeeded(30, 0.1, 1)).toBe(33);
    expect(seedsNeeded(4, 0, 0.5)).toBe(8);
    expect(() => seedsNeeded(4, 0, 0)).toThrow("seedsNeeded requires 0 < germination ≤ 1; got 0");
  });
});

describe("cautions of a plan", () => {
  const plan = {
    design: "rcbd" as const,
    blocks: 3,
    beds: [{ name: "East bed", widthMm: 1_200, lengthMm: 6_000 }],
    sownOn: "2026-08-20",
    plantedOn: "2026-09-20",
    crop: "mustard greens",
  };
  const cover = (name: string, fromOn: string | null) => ({
    cover: { name, kind: name },
    fromOn,
    untilOn: null,
  });

  it("are none for a plain trial", () => {
    expect(planCautions(plan)).toEqual([]);
  });

  it("say when a cover could not be told from its spot, or from its day", () => {
    const levels = [cover("fleece", null), cover("tunnel", "2026-11-01")];
    const said = planCautions({
      ...plan,
      design: "split-plot",
      blocks: 1,
      mainPlots: { factor: "cover", levels },
    });
    expect(said).toHaveLength(2);
    expect(said[0]).toContain("one spot only");
    expect(said[1]).toContain("different days");
    const alike = [{ cover: null, fromOn: null, untilOn: null }, cover("tunnel", "2026-11-01")];
    expect(planCautions({ ...plan, mainPlots: { factor: "cover", levels: alike } })).toEqual([]);
  });

  it("say when covers come off on different days", () => {
    const levels = [cover("fleece", null), { ...cover("tunnel", null), untilOn: "2027-03-01" }];
    const said = planCautions({ ...plan, mainPlots: { factor: "cover", levels } });
    expect(said).toEqual([expect.stringContaining("come off on different days")]);
  });

  it("say when a cover over everything goes on or comes off between two sowings", () => {
    const levels = [{ sownOn: "2026-08-06" }, { sownOn: "2026-08-20" }];
    const under = (fromOn: string, untilOn: string | null) =>
      planCautions({
        ...plan,
        mainPlots: { factor: "sowing", levels },
        covers: [{ name: "White fleece", kind: "fleece", fromOn, untilOn }],
      }).slice(1);
    expect(under("2026-08-10", null)).toEqual([
      expect.stringMatching(/^White fleece .*could not be told apart/),
    ]);
    expect(under("2026-08-01", "2026-08-20")).toHaveLength(1);
    expect(under("2026-08-01", null)).toEqual([]);
    expect(under("2026-09-20", "2027-03-01")).toEqual([]);
  });

  it("say that an earlier sowing is older", () => {
    const levels = [{ sownOn: "2026-08-06" }, { sownOn: "2026-08-20" }];
    expect(planCautions({ ...plan, mainPlots: { factor: "sowing", levels } })[0]).toContain("at one age");
  });

  it("say what a companion's age should be", () => {
    const among = (habit: "slow and upright" | "quick", sownOn: string) =>
      planCautions({ ...plan, companions: [{ name: "Onions", habit, sownOn, betweenPlantsMm: 100 }] })[0];
    expect(among("slow and upright", "2026-08-03")).toContain("alike in every plot");
    expect(among("slow and upright", "2026-08-20")).toContain("as old as the mustard greens");
    expect(among("slow and upright", "2026-08-21")).toContain("1 day younger than");
    expect(among("quick", "2026-09-20")).toContain("alike in every plot");
    expect(among("quick", "2026-09-27")).toContain(
      "goes in on the day that the crop is planted out, Sun 20 Sep",
    );
  });
});

describe("ground as it is", () => {
  const request: FitRequest = {
    design: "rcbd",
    entries: 4,
    blocks: 2,
    plantsPerPlot: 3,
    betweenPlantsMm: 300,
    betweenRowsMm: 300,
    beds: [{ id: "long", widthMm: 1200, lengthMm: 3600 }],
  };
  const cellsOf = (changes: Partial<FitRequest>) => {
    const outcome = fitBed({ ...request, ...changes });
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
    return outcome.value;
  };

  it("lays blocks in strips beside one another where it changes from side to side", () => {
    const { cells, lengthMm } = cellsOf({ gradient: "across", plantsPerPlot: 3, entries: 4 });
    expect(lengthMm).toBe(900);
    const [first, second] = [1, 2].map((block) => cells.filter((cell) => cell.block === block));
    expect(new Set(first.map((cell) => cell.xMm)).size).toBe(1);
    expect(Math.min(...second.map((cell) => cell.xMm))).toBeGreaterThan(first[0].xMm);
    expect(first.map((cell) => cell.yMm)).toEqual([0, 900, 1800, 2700]);
    expect(first.map((cell) => [cell.row, cell.column])).toEqual([
      [1, 1],
      [2, 1],
      [3, 1],
      [4, 1],
    ]);
  });

  it("leaves room for guard plants all round", () => {
    const { cells } = cellsOf({ guardRows: 1, entries: 2 });
    expect(Math.min(...cells.map((cell) => cell.xMm))).toBe(300);
    expect(Math.min(...cells.map((cell) => cell.yMm))).toBe(300);
  });

  it("lays no block over what stands in the way, and counts rows on behind it", () => {
    const { cells } = cellsOf({
      beds: [{ id: "long", widthMm: 1200, lengthMm: 3600, takenUp: [{ fromMm: 1000, toMm: 2000 }] }],
    });
    expect(new Set(cells.map((cell) => cell.yMm))).toEqual(new Set([0, 2000]));
    expect(cells.map((cell) => cell.row)).toEqual([1, 1, 1, 1, 2, 2, 2, 2]);
  });

  it("is refused with the numbers where there is too little of it", () => {
    const latin = fitBed({ ...request, design: "latin", entries: 5, blocks: 5 });
    expect(latin).toMatchObject({
      ok: false,
      faults: [
        {
          place: "design",
          found: "5 plots side by side need 1.5 m of width; the bed is 1.2 m wide",
          wanted: "blocks, a wider bed, or 4 varieties at most",
        },
      ],
    });
    const guarded = fitBed({ ...request, blocks: 4, guardRows: 1 });
    expect(guarded).toMatchObject({ ok: false, faults: [{ place: "blocks" }] });
    expect(JSON.stringify(guarded)).toContain(
      "inside 1 guard row need 7.8 m of a bed 1.2 m wide; this one is 3.6 m",
    );
    const inTheWay = fitBed({
      ...request,
      blocks: 4,
      beds: [{ id: "long", widthMm: 1200, lengthMm: 3600, takenUp: [{ fromMm: 0, toMm: 500 }] }],
    });
    expect(JSON.stringify(inTheWay)).toContain("this one is 3.6 m, less what stands in the way");
  });

  it("is not looked at where the numbers cannot make the design", () => {
    expect(designMisfits({ ...request, design: "latin" })[0]).toMatchObject({ place: "blocks" });
    expect(designMisfits({ ...request, design: "split-plot" })[0]).toMatchObject({ place: "levels" });
    expect(designMisfits({ ...request, design: "augmented", checks: 1, blocks: 4 })[0]).toMatchObject({
      place: "blocks",
      wanted: "3 at most, or an ordinary trial in blocks",
    });
    expect(
      designMisfits({ ...request, design: "incomplete-blocks", entries: 12, plotsPerBlock: 6 })[0],
    ).toMatchObject({
      place: "plotsPerBlock",
    });
  });
});

/** Plants standing of `m` that share their fate: a share from a beta whose intra-class correlation is 0.1. */
function clumped(stream: RandomStream, share: number, plants: number): number {
  // A Pólya urn gives the beta-binomial without a beta draw: (1 − ρ)/ρ balls to begin with.
  let [white, black] = [share * 9, (1 - share) * 9];
  let standing = 0;
  for (let plant = 0; plant < plants; plant += 1) {
    if (stream.uniform() * (white + black) < white) {
      standing += 1;
      white += 1;
    } else black += 1;
  }
  return standing;
}

describe("what would be seen four times in five", () => {
  it.each([
    [4, 6],
    [6, 3],
    [3, 10],
  ])(
    "in %i blocks of %i plants is about as often seen by the results’ own interval",
    (blocks, plantsPerPlot) => {
      const tells = whatItTells({ design: "rcbd", entries: 4, blocks, plantsPerPlot });
      const stream = randomStream(blocks * 100 + plantsPerPlot);
      const trials = 400;
      const seenAt = (difference: number) => {
        let seen = 0;
        for (let trial = 0; trial < trials; trial += 1) {
          const plots = Array.from({ length: blocks * 4 }, (_, index) => ({
            variety: String(index % 4),
            block: String(Math.floor(index / 4)),
            row: null,
            column: null,
            setOut: plantsPerPlot,
            standing: clumped(stream, index % 4 === 1 ? 0.75 - difference : 0.75, plantsPerPlot),
          }));
          const { varieties } = effectivePlants(plots, "rcbd", 0.95);
          const [check, other] = ["0", "1"].map((name) => varieties.find((row) => row.variety === name));
          const high = newcombeDifference(
            { share: other?.share ?? 0, plants: other?.effectivePlants ?? 0 },
            { share: check?.share ?? 0, plants: check?.effectivePlants ?? 0 },
            0.95,
          ).high;
          if (high < 0) seen += 1;
        }
        return seen / trials;
      };
      // Standard error 2 in 100; the closed form is for planning and may be off by a tenth or so.
      expect(Math.abs(seenAt(tells.oftenSeen ?? 0) - 0.8)).toBeLessThan(0.12);
      expect(Math.abs(seenAt(tells.seldomSeen ?? 0) - 0.25)).toBeLessThan(0.12);
    },
  );

  it("says how much of each design is left to judge by, and the least p", () => {
    const size = { entries: 4, blocks: 4, plantsPerPlot: 4 };
    expect(whatItTells({ ...size, design: "rcbd" }).residualDf).toBe(9);
    expect(whatItTells({ ...size, design: "latin" })).toMatchObject({ residualDf: 6 });
    expect(whatItTells({ ...size, entries: 3, blocks: 3, design: "latin" }).smallestP).toBeCloseTo(1 / 3);
    expect(whatItTells({ ...size, design: "split-plot", levels: 2 }).residualDf).toBe(18);
    expect(
      whatItTells({ ...size, entries: 12, blocks: 3, design: "incomplete-blocks", plotsPerBlock: 3 })
        .residualDf,
    ).toBe(13);
    const split = (blocks: number) =>
      whatItTells({ ...size, blocks, design: "split-plot", levels: 2 }).sentences.join(" ");
    expect(split(2)).toContain("With two blocks the covers are described, not compared;");
    // Simulated through the analysis (tests/database/simulating.test.ts): seen about four times in five.
    expect(split(6)).toContain(
      "on 5 degrees of freedom: expect to see only differences above about 27 points",
    );
    expect(split(3)).toContain(
      "on 2 degrees of freedom: expect to see only differences above about 41 points",
    );
    const lookSee = whatItTells({ ...size, entries: 12, checks: 1, design: "augmented" });
    expect(lookSee).toMatchObject({ residualDf: 3, yieldOftenSeen: null, smallestP: null });
    expect(lookSee.sentences.join(" ")).toContain("This bed can tell dead from alive.");
  });
});
