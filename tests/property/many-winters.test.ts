import fc from "fast-check";
import { expect, it } from "vitest";
import { manyWinters } from "@/lib/analysis/many-winters";
import { inWinter } from "../unit/analysis/invented-winters";

const winter = fc.record({
  year: fc.integer({ min: 2015, max: 2024 }),
  estimate: fc.constantFrom(0, 0.25, 0.5, 0.8125, 1),
  effectivePlants: fc.double({ min: 1, max: 40, noNaN: true }),
  bed: fc.integer({ min: 0, max: 2 }),
  state: fc.constantFrom("counts" as const, "counts" as const, "so far" as const, "look-see" as const),
  covers: fc.constantFrom<string[]>([], ["low tunnel"]),
});

function trialsOf(winters: (typeof winter extends fc.Arbitrary<infer One> ? One : never)[]) {
  return winters.map(({ year, bed, estimate, effectivePlants, state, covers }, place) =>
    inWinter(`${year}/${String((year + 1) % 100).padStart(2, "0")}`, {
      estimate,
      effectivePlants,
      share: { state, coverKinds: covers },
      trial: { trialId: `bed ${bed} ${place}` },
    }),
  );
}

it("the order in which winters come changes nothing", () => {
  // Pooling itself is symmetrical by its own tests; here it stands still, so that many orders can be tried.
  const pool = (winters: readonly { standing: number; effectivePlants: number }[]) => {
    const share = winters.reduce((sum, { standing }, place) => sum + standing / (place + 1), 0);
    const one = { low: share, estimate: share, high: share };
    return { winters: winters.length, typical: one, another: one, spread: 0, atLeastFloor: null };
  };
  fc.assert(
    fc.property(
      fc.array(winter, { minLength: 1, maxLength: 6 }),
      fc.infiniteStream(fc.nat()),
      (winters, keys) => {
        const trials = trialsOf(winters);
        const shuffled = trials
          .map((trial) => ({ trial, key: keys.next().value as number }))
          .sort((a, b) => a.key - b.key)
          .map(({ trial }) => trial);
        expect(manyWinters("Hollin", shuffled, { pool })).toEqual(manyWinters("Hollin", trials, { pool }));
      },
    ),
    { seed: 20261125, numRuns: 60 },
  );
});

it("more effective plants of the same share leave a typical winter no less sure, and no limit passes 0 or 1", () => {
  fc.assert(
    fc.property(
      fc.constantFrom(0, 0.3, 0.75, 1),
      fc.double({ min: 2, max: 20, noNaN: true }),
      (estimate, effectivePlants) => {
        const [few] = manyWinters("Hollin", [inWinter("2025/26", { estimate, effectivePlants })]);
        const [many] = manyWinters("Hollin", [
          inWinter("2025/26", { estimate, effectivePlants: effectivePlants * 4 }),
        ]);
        const width = (found: typeof few) => {
          const { low, high } = found.value.survival?.pooled.typical ?? { low: 0, high: 0 };
          expect(low).toBeGreaterThan(0);
          expect(high).toBeLessThan(1);
          return high - low;
        };
        expect(width(many)).toBeLessThanOrEqual(width(few) + 1e-6);
      },
    ),
    { seed: 20261125, numRuns: 8 },
  );
});
