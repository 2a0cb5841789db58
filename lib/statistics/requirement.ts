/**
 * Stops a statistic that was handed what it cannot take, always in the same words:
 * `wilsonInterval requires 0 ≤ standing ≤ setOut; got 7 of 6`. Missing values are dealt with, and counted, before they
 * get here, so a non-finite number is a bug of the caller's. Where it is asked thousands of times a second, `got` is
 * handed as a function: spelling out numbers nobody reads takes longer than the arithmetic.
 */
export function insist(
  holds: boolean,
  statistic: string,
  wanted: string,
  got: string | number | (() => string),
): asserts holds {
  if (!holds)
    throw new RangeError(`${statistic} requires ${wanted}; got ${typeof got === "function" ? got() : got}`);
}
