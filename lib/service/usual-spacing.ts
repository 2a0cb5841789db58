export interface Spacing {
  betweenPlantsMm: number;
  betweenRowsMm: number;
}

/**
 * Spacings that gardeners commonly give, in mm between plants and between rows (*common practice*; packets differ).
 * A crop is found by a word of its name.
 */
const usual: readonly (readonly [word: string, betweenPlantsMm: number, betweenRowsMm: number])[] = [
  ["lamb's lettuce", 100, 150],
  ["corn salad", 100, 150],
  ["lettuce", 250, 300],
  ["mustard", 200, 300],
  ["kale", 450, 450],
  ["leek", 150, 300],
  ["chard", 250, 400],
  ["broad bean", 200, 450],
  ["spinach", 150, 300],
  ["rocket", 150, 200],
  ["endive", 300, 300],
  ["cabbage", 400, 450],
  ["onion", 100, 250],
  ["garlic", 150, 250],
  ["beet", 100, 300],
];

const elsewise: Spacing = { betweenPlantsMm: 300, betweenRowsMm: 300 };

/** The usual spacing of a crop, or 30 × 30 cm, with whether the crop was known. */
export function usualSpacing(crop: string): Spacing & { isKnown: boolean } {
  const name = crop.toLowerCase().replaceAll("’", "'");
  const found = usual.find(([word]) => name.includes(word));
  if (!found) return { ...elsewise, isKnown: false };
  return { betweenPlantsMm: found[1], betweenRowsMm: found[2], isKnown: true };
}
