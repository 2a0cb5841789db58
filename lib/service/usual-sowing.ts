import { addDays, type Day } from "@/lib/words/day";

/**
 * Weeks from sowing to planting out that gardeners commonly give (*common practice*; the season and the windowsill make it
 * more or less). A crop is found by a word of its name; 0 is sown in place.
 */
const usual: readonly (readonly [word: string, weeks: number])[] = [
  ["lamb's lettuce", 4],
  ["corn salad", 4],
  ["lettuce", 4],
  ["mustard", 4],
  ["kale", 6],
  ["leek", 10],
  ["chard", 5],
  ["broad bean", 4],
  ["spinach", 4],
  ["rocket", 3],
  ["endive", 4],
  ["cabbage", 6],
  ["onion", 9],
  ["garlic", 0],
  ["beet", 5],
];

/** How many weeks a crop is usually raised before it is planted out; null where that is not known here. */
function usualRaisingWeeks(crop: string): number | null {
  const name = crop.toLowerCase().replaceAll("’", "'");
  return usual.find(([word]) => name.includes(word))?.[1] ?? null;
}

/** The day on which a crop is sown to be planted out on another, and why, for reading; null where its time is not known. */
export function usualSowing(crop: string, plantedOn: Day): { sownOn: Day; why: string } | null {
  const weeks = usualRaisingWeeks(crop);
  if (weeks === null) return null;
  const sownOn = addDays(plantedOn, -7 * weeks);
  const name = crop.trim().toLowerCase();
  const why =
    weeks === 0
      ? `The sowing date is the planting date, since ${name} goes straight into the bed (common practice).`
      : `The sowing date was reckoned back from planting: ${name} is raised for about ${weeks} weeks (common practice). Change it if yours takes more or less.`;
  return { sownOn, why };
}
