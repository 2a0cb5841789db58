/** With so many varieties or fewer, the counted smallest p is the very smallest that dealing again can give. */
const mostCountedExactly = 3;

/**
 * Said where the smallest p of a layout is above 1 in 20. With four varieties or more the p shown divides by each deal's
 * own scatter and can fall somewhat below the counted one, so there the layout is not said to be unable.
 */
export function sayLayoutReach(varieties: number): string {
  return varieties <= mostCountedExactly
    ? "This layout cannot reach 1 in 20 however clear the result; read the interval."
    : "This layout can hardly reach 1 in 20 however clear the result; read the interval.";
}

/** What stands behind a smallest p that is shown: `; with four varieties or more …`, or nothing. */
export function saySmallestPLimit(varieties: number): string {
  return varieties <= mostCountedExactly
    ? ""
    : ", counted by a pair’s own plots; with four varieties or more a p can fall somewhat below it";
}
