/** An F test. `f`, `df2` and `p` are null where there is none to give; `reason` says why. */
export interface VarianceRatio {
  f: number | null;
  df1: number;
  df2: number | null;
  p: number | null;
  reason: "single plot" | "no variation" | "no residual df" | "not estimable" | null;
}

export const noVarianceRatio = (
  df1: number,
  reason: Exclude<VarianceRatio["reason"], null>,
): VarianceRatio => ({ f: null, df1, df2: null, p: null, reason });
