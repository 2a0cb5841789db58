import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import type { TrialFindings } from "@/lib/analysis/finding";
import { type AnalysedDesign, analysedDesigns, type TrialRecord } from "@/lib/analysis/trial-record";
import { jsonReport } from "@/lib/report/json-report";
import { plainTextReport } from "@/lib/report/plain-text-report";
import { addDays, type Day } from "@/lib/words/day";
import { instantOf } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";

const seed = 20261125;
const planted = "2026-09-10" as Day;
const causes = ["slugs", "cold", "unknown", "hungry-goose"];

interface Shape {
  design: AnalysedDesign;
  varieties: number;
  blocks: number;
  plants: (number | null)[];
  /** What is seen of each plot, look after look: plants lost, taken out, grams, a score; the rest is chance's. */
  looks: { day: number; plot: number; kind: number; amount: number }[];
  /** Grams of every plot on a common day; null is not picked, and many are nought. */
  picks: (number | null)[][];
  scores: (number | null)[];
  hasCheck: boolean;
  hasRule: boolean;
}

const most = 48;
const figures = (highest: number) =>
  fc.array(
    fc.option(fc.oneof(fc.integer({ min: 0, max: highest }), fc.constant(0), fc.constant(highest)), {
      freq: 25,
    }),
    { minLength: most, maxLength: most },
  );

const shapes = fc.record<Shape>({
  design: fc.constantFrom(...analysedDesigns),
  varieties: fc.integer({ min: 1, max: 6 }),
  blocks: fc.integer({ min: 1, max: 4 }),
  plants: fc.array(fc.option(fc.integer({ min: 1, max: 12 }), { freq: 60 }), {
    minLength: most,
    maxLength: most,
  }),
  picks: fc.array(figures(400), { maxLength: 2 }),
  scores: figures(9),
  looks: fc.array(
    fc.record({
      day: fc.integer({ min: 0, max: 120 }),
      plot: fc.nat(most - 1),
      kind: fc.nat(9),
      amount: fc.integer({ min: 0, max: 12 }),
    }),
    { maxLength: 80 },
  ),
  hasCheck: fc.boolean(),
  hasRule: fc.boolean(),
});

const kinds = [
  { kind: "stand", unit: "plants" },
  { kind: "stand", unit: "plants" },
  { kind: "loss", unit: "plants" },
  { kind: "removed", unit: "plants" },
  { kind: "added", unit: "plants" },
  { kind: "regrew", unit: "plants" },
  { kind: "harvest", unit: "g" },
  { kind: "harvest", unit: "g" },
  { kind: "score", unit: "score" },
  { kind: "count", unit: "count" },
] as const;

const blankFact = {
  deviceId: "phone",
  walkaboutId: null,
  cohortOn: null,
  cause: null,
  part: null,
  recordedAt: instantOf(0),
  replaces: null,
  by: "",
  note: null,
} as const;

function recordOf(shape: Shape): TrialRecord {
  const { design, varieties, blocks, plants, looks } = shape;
  const order = design === "latin" ? varieties : blocks;
  const names = Array.from({ length: varieties }, (_, place) => `V${place}`);
  const plots = Array.from({ length: order }, (_, block) =>
    ["one", "two"].slice(0, design === "split-plot" ? 2 : 1).flatMap((cover, main) =>
      names.map((_, place) => {
        const code = `${block} ${main} ${place}`;
        return {
          id: code,
          code,
          // A Latin square is the cyclic one; in an augmented bed the first variety alone is repeated.
          variety:
            design === "latin"
              ? names[(place + block) % varieties]
              : design === "augmented" && place > 0
                ? `${names[place]} ${block}`
                : names[place],
          replicate: design === "incomplete-blocks" ? String(Math.floor(block / 2)) : null,
          block: design === "crd" ? null : String(block),
          mainPlot: design === "split-plot" ? String(main) : null,
          row: block + 1,
          column: place + 1,
          cover: design === "split-plot" ? cover : null,
          sownOn: null,
          plants: plants[(block * 12 + main * 6 + place) % plants.length],
          plantedOn: planted,
          areaM2: 0.5,
        };
      }),
    ),
  ).flat();
  const facts = looks.map(({ day, plot, kind, amount }, place): Observation => {
    const own = kinds[kind];
    return {
      ...blankFact,
      id: `fact ${place}`,
      deviceSequence: place,
      plotId: plots[plot % plots.length].id,
      kind: own.kind,
      cause: own.kind === "loss" ? causes[amount % 4] : own.kind === "removed" ? "cut" : null,
      trait: own.kind === "score" ? "damage" : own.kind === "count" ? "grubs" : null,
      amount: own.kind === "harvest" ? amount * 10 : Math.min(amount, own.kind === "score" ? 9 : 12),
      unit: own.unit,
      // Harvests and scores fall on a few common days, so that they often meet.
      seenOn: addDays(planted, own.unit === "plants" ? day : 30 * (1 + (day % 2))),
    };
  });
  const common = (kind: Observation["kind"], seenOn: Day, values: (number | null)[]) =>
    plots.flatMap((plot, place): Observation[] => {
      const amount = values[place % values.length];
      if (amount === null && kind !== "harvest") return [];
      return [
        {
          ...blankFact,
          id: `${kind} ${seenOn} ${place}`,
          deviceSequence: 1000 + place,
          plotId: plot.id,
          kind,
          trait: kind === "score" ? "damage" : kind === "count" ? "grubs" : null,
          amount,
          unit: kind === "harvest" ? "g" : kind === "score" ? "score" : "count",
          seenOn,
        },
      ];
    });
  facts.push(
    ...shape.picks.flatMap((values, place) => common("harvest", addDays(planted, 40 + place * 20), values)),
    ...common("score", addDays(planted, 50), shape.scores),
    ...common("score", addDays(planted, 70), [...shape.scores].reverse()),
    ...common("count", addDays(planted, 50), shape.scores),
  );
  const present = [...new Set(plots.map((plot) => plot.variety))];
  return {
    design,
    seed: 3,
    varieties: present,
    check: shape.hasCheck ? present[0] : null,
    tenderCheck: shape.hasCheck && present.length > 2 ? present[present.length - 1] : null,
    plots,
    facts,
    amendments: [],
    assessments: [
      { name: "took", dueOn: addDays(planted, 20) },
      { name: "regrowth", dueOn: addDays(planted, 110) },
    ],
    decidingAssessment: "regrowth",
    rule: shape.hasRule
      ? {
          version: 1,
          survivalFloor: 0.6,
          yieldFloor: 0.8,
          sureness: 0.8,
          qualities: [],
          reason: null,
          setAt: instantOf(0),
        }
      : null,
    ruleChangedAfterData: false,
    clearBy: null,
  };
}

function analysed(record: TrialRecord): TrialFindings {
  return analyseTrial(record, { withoutRedealing: true });
}

function notFinite(findings: TrialFindings): string[] {
  const places: string[] = [];
  JSON.stringify(jsonReport(findings), function (this: unknown, key, value) {
    if (typeof value === "number" && !Number.isFinite(value)) places.push(key);
    return value;
  });
  return places;
}

describe("the analysis of any record", () => {
  it("gives numbers or nothing, never what is none, and words for both", () => {
    fc.assert(
      fc.property(shapes, (shape) => {
        const findings = analysed(recordOf(shape));
        expect(notFinite(findings)).toEqual([]);
        const printed = plainTextReport(findings);
        expect(printed).not.toMatch(/NaN|undefined|null|Infinity|no difference/);
      }),
      { seed, numRuns: 120 },
    );
  }, 240_000);

  it("puts every share within its limits and every limit within none and all", () => {
    fc.assert(
      fc.property(shapes, (shape) => {
        const { took, wintered, survival, losses, standing } = analysed(recordOf(shape));
        const shares = [
          ...[took, wintered, survival].flatMap((step) =>
            (step?.value.varieties ?? []).map(({ estimate, low, high }) => ({ share: estimate, low, high })),
          ),
          ...(losses?.value ?? []),
          ...(standing?.value ?? []).flatMap(({ steps }) =>
            steps.map((step) => ({ share: step.standing, low: step.low, high: step.high })),
          ),
        ];
        for (const { share, low, high } of shares) {
          if (share === null || low === null || high === null) continue;
          expect(low).toBeGreaterThanOrEqual(0);
          expect(low).toBeLessThanOrEqual(share + 1e-12);
          expect(high).toBeGreaterThanOrEqual(share - 1e-12);
          expect(high).toBeLessThanOrEqual(1);
        }
      }),
      { seed, numRuns: 70 },
    );
  }, 240_000);

  it("accounts for every plant: standing, lost by cause, or taken out", () => {
    fc.assert(
      fc.property(shapes, (shape) => {
        const { survival, losses } = analysed(recordOf(shape));
        for (const variety of survival?.value.varieties ?? []) {
          const lost = (losses?.value ?? [])
            .filter((loss) => loss.variety === variety.variety)
            .reduce((sum, loss) => sum + loss.plants, 0);
          expect(variety.standing + lost + variety.censored).toBe(variety.plants);
        }
      }),
      { seed, numRuns: 70 },
    );
  }, 240_000);

  it("says the same whatever the varieties are called and in whatever order facts come", () => {
    fc.assert(
      fc.property(shapes, (shape) => {
        const record = recordOf(shape);
        const renamed = (name: string) => `renamed ${name}`;
        const other: TrialRecord = {
          ...record,
          varieties: record.varieties.map(renamed),
          check: record.check && renamed(record.check),
          tenderCheck: record.tenderCheck && renamed(record.tenderCheck),
          plots: record.plots.map((plot) => ({ ...plot, variety: renamed(plot.variety) })),
          facts: [...record.facts].reverse(),
        };
        const back = JSON.parse(JSON.stringify(analysed(other)).replaceAll("renamed ", ""));
        expect(back).toEqual(JSON.parse(JSON.stringify(analysed(record))));
      }),
      { seed, numRuns: 30 },
    );
  }, 240_000);
});
