/**
 * The trait under which a growth stage is kept: a `count` whose amount is the two figures of the BBCH scale, 0 to 99. It
 * counts nothing; being of that kind it is taken by every phone and home that knew counts before it.
 */
export const growthStage = "bbch";

/** The last of the stages, which begin at 00. */
export const lastGrowthStage = 99;

/**
 * The ten principal stages of the BBCH scale, by their figure, in a gardener's words. Source: Meier (ed.), *Growth stages
 * of mono- and dicotyledonous plants: BBCH monograph*, 2nd edition, 2001; seen in other works that quote it.
 */
export const principalStages = [
  "germinating or sprouting",
  "leaves unfolding",
  "side shoots forming",
  "stem or rosette growing",
  "parts to harvest forming",
  "flower buds showing",
  "flowering",
  "fruit forming",
  "ripening",
  "dying back",
] as const;

/** The two figures of a stage: *05*, *49*. */
export function stageFigures(stage: number): string {
  return String(stage).padStart(2, "0");
}

/** A stage as it is read: *BBCH 49, parts to harvest forming*. */
export function sayGrowthStage(stage: number): string {
  const principal = principalStages[Math.floor(stage / 10)];
  return `BBCH ${stageFigures(stage)}${principal ? `, ${principal}` : ""}`;
}
