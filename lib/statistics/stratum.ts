import type { Count } from "./miettinen-nurminen-difference";
import { insist } from "./requirement";

/** Two varieties' counts in one block. */
export interface Stratum {
  a: Count;
  b: Count;
}

/** Stops at a count that cannot be meant. */
export function insistOnStrata(statistic: string, strata: readonly Stratum[]): void {
  insist(strata.length > 0, statistic, "at least one block", 0);
  for (const { a, b } of strata)
    for (const { standing, setOut } of [a, b])
      insist(
        standing >= 0 && standing <= setOut && Number.isFinite(setOut),
        statistic,
        "0 ≤ standing ≤ setOut",
        `${standing} of ${setOut}`,
      );
}
