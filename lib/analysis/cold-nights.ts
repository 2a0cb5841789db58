import type { Day } from "@/lib/words/day";

/** A night with its coldest, in tenths of a degree Celsius. */
export interface Night {
  day: Day;
  minDeciC: number;
}

/** How cold it was between two looks: nights below 0 and below −5 °C, and the coldest. */
export interface ColdSpell {
  from: Day;
  until: Day;
  belowFreezing: number;
  belowMinusFive: number;
  coldestDeciC: number | null;
}

/** Two marks to count frosts by; neither is a limit of hardiness. */
export const frostDeciC = 0;
const hardFrostDeciC = -50;

/** The cold between each look and the next; a night belongs to the look that follows it. */
export function coldBetweenLooks(looks: readonly Day[], nights: readonly Night[]): ColdSpell[] {
  return looks.slice(1).map((until, place) => {
    const from = looks[place];
    const own = nights.filter((night) => night.day > from && night.day <= until);
    return {
      from,
      until,
      belowFreezing: own.filter((night) => night.minDeciC < frostDeciC).length,
      belowMinusFive: own.filter((night) => night.minDeciC < hardFrostDeciC).length,
      coldestDeciC: own.length === 0 ? null : Math.min(...own.map((night) => night.minDeciC)),
    };
  });
}
