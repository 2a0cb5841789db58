/** Limits of an interval. */
export interface Interval {
  low: number;
  high: number;
}

/** An estimate with its limits. */
export interface Estimate extends Interval {
  estimate: number;
}
