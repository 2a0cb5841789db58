/** What one size of trial would show, and whether the beds hold it. */
export interface ReachPoint {
  blocks: number;
  plantsPerPlot: number;
  /** The smallest true difference in survival that shows four times in five, as a share; null when none does. */
  survival: number | null;
  /** By how much less than the check a variety must yield to show as often; null where it is not told. */
  yield: number | null;
  fits: boolean;
  /** The plan as it stands. */
  isPlan: boolean;
}
