/** The part of a plant that is picked. */
export const harvestParts = ["leaf", "head", "root", "bulb", "green stem", "pod", "shelled", "tops"] as const;
export type HarvestPart = (typeof harvestParts)[number];
