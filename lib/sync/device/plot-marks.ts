import type { Day } from "@/lib/words/day";
import type { PlotMarks } from "./device-store";

/** One plant's place in the drawing of a plot. */
export interface Mark {
  place: number;
  is: "standing" | "doubtful" | "gap";
  /** The cohort of a standing plant: null for the planting, else the day on which it was set in a gap. */
  cohortOn: Day | null;
}

export interface MarkCounts {
  /** Plants set out at planting. */
  plants: number;
  /** Standing in each cohort, the planting first. */
  cohorts: { cohortOn: Day | null; standing: number }[];
  doubtful: number;
}

/** Takes `count` of the places on offer: those remembered first, then from the end of the plot. */
function pick(places: number[], count: number, remembered: (place: number) => boolean): number[] {
  const known = places.filter(remembered);
  const others = places.filter((place) => !remembered(place)).toReversed();
  return [...known, ...others].slice(0, count);
}

/**
 * The marks of a plot: as many gaps, doubtful plants and later fillings as the facts say, at the places that this phone
 * remembers and else at the end. The facts know no places, so the drawing never decides a count.
 */
export function plotMarks({ plants, cohorts, doubtful }: MarkCounts, remembered: PlotMarks): Mark[] {
  const standing = cohorts.reduce((sum, cohort) => sum + cohort.standing, 0);
  const places = Array.from({ length: Math.max(plants, standing) }, (_, place) => place);
  const gaps = new Set(pick(places, places.length - standing, (place) => remembered[place] === "gap"));
  let free = places.filter((place) => !gaps.has(place));
  const cohortOf = new Map<number, Day>();
  for (const cohort of cohorts) {
    if (cohort.cohortOn === null) continue;
    for (const place of pick(free, cohort.standing, (place) => remembered[place] === cohort.cohortOn))
      cohortOf.set(place, cohort.cohortOn);
    free = free.filter((place) => !cohortOf.has(place));
  }
  const stand = places.filter((place) => !gaps.has(place));
  const doubted = new Set(pick(stand, doubtful, (place) => remembered[place] === "doubtful"));
  return places.map((place): Mark => {
    const cohortOn = cohortOf.get(place) ?? null;
    if (gaps.has(place)) return { place, is: "gap", cohortOn: null };
    return { place, is: doubted.has(place) ? "doubtful" : "standing", cohortOn };
  });
}

/** What to remember of a plot once these places are drawn so; a null forgets a place. */
export function remember(marks: PlotMarks, places: number[], is: "gap" | "doubtful" | Day | null): PlotMarks {
  const next = { ...marks };
  for (const place of places) {
    if (is === null) delete next[place];
    else next[place] = is;
  }
  return next;
}
