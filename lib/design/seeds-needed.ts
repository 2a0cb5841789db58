/**
 * Seeds to sow for so many plants: the plants, with a share more as spares, over the share that comes up. Rounded up twice,
 * since there are no half plants and no half seeds. Plain expectation: half the time somewhat fewer come up.
 *
 * @param plants to be set out
 * @param spares as a share of the plants, 0 for none
 * @param germination share of seeds that come up, above 0 and at most 1
 *
 * Example: seedsNeeded(12, 0.25, 0.8) → 15 plants, 19 seeds.
 */
export function seedsNeeded(plants: number, spares: number, germination: number): number {
  if (!(germination > 0 && germination <= 1))
    throw new RangeError(`seedsNeeded requires 0 < germination ≤ 1; got ${germination}`);
  // A hair off, or 0.1 × 30 would be 3.0000000000000004 plants.
  const raised = Math.ceil(plants * (1 + spares) - 1e-9);
  return Math.ceil(raised / germination - 1e-9);
}
