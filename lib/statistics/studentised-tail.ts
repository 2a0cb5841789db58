import { integral } from "./gauss-legendre";
import { logGamma } from "./log-gamma";
import { insist } from "./requirement";
import { rootBetween } from "./root-between";

/** Distribution of M/s, where M is known by its tail and ν s² is an independent chi-square on ν degrees of freedom. */
export interface StudentisedTail {
  /** P(M/s > q). */
  upper(q: number, df: number): number;
  /** The q with P(M/s > q) = p. */
  quantile(p: number, df: number): number;
}

/** More than these are begun anew: fractional df of mixed models come again only for the same figures. */
const mostQuantiles = 200;

/** Beyond this P(M > u) is taken as 0: it is below 1e-170. */
const farthest = 40;

/**
 * Puts the estimated standard deviation under a maximum or range of normal variables.
 *
 * @param tail P(M > u) for u ≥ 0, with its digits kept where it is small
 * @param nodes at which it is asked for on each step of 1; fewer where it is dear and fewer digits will do
 *
 * Conventions: ln tail is laid down once as Chebyshev polynomials on steps of 1, as far as it is asked for;
 * the integral over ln s runs where the integrand is within e⁻³⁶ of its peak, which holds for any df > 0 (Infinity too).
 * Checked: tests/reference/studentized-range, tests/reference/dunnett.
 */
export function studentisedTail(tail: (u: number) => number, nodes = 16): StudentisedTail {
  const logTail = interpolatedLog(tail, nodes);
  // Asked for again with every figure of one layout, and dear: some dozen integrals.
  const quantiles = new Map<string, number>();
  function upper(q: number, df: number): number {
    insist(df > 0 && !Number.isNaN(q), "studentisedTail", "df > 0 and a number q", `q ${q}, df ${df}`);
    if (q <= 0) return 1;
    if (q === Number.POSITIVE_INFINITY) return 0;
    if (df === Number.POSITIVE_INFINITY) return Math.exp(logTail(q));
    const height = (t: number) => df * (t - Math.expm1(2 * t) / 2) + logTail(q * Math.exp(t));
    const top = Math.min(0.5 * Math.log1p(1600 / df + Math.sqrt(400 / df)), Math.log(farthest / q));
    const mode = peak(height, Math.min(0, Math.log(1e-3 / q), top - 1), top);
    const floor = height(mode) - 36;
    if (floor === Number.NEGATIVE_INFINITY) return 0;
    const from = edge(height, floor, mode, mode - 60 / df - Math.log1p(q) - 10);
    const to = edge(height, floor, mode, top);
    const panels = Math.max(8, Math.ceil((to - from) / 1.25));
    const area = integral((t) => Math.exp(height(t)), from, to, panels);
    return Math.min(1, area * Math.exp(logConstant(df)));
  }
  function quantile(p: number, df: number): number {
    insist(p > 0 && p < 1 && df > 0, "studentisedTail", "0 < p < 1 and df > 0", `p ${p}, df ${df}`);
    const key = `${p} ${df}`;
    const known = quantiles.get(key);
    if (known !== undefined) return known;
    let high = 2;
    while (upper(high, df) > p) high *= 2;
    const found = rootBetween((q) => upper(q, df) - p, 0, high);
    if (quantiles.size >= mostQuantiles) quantiles.clear();
    quantiles.set(key, found);
    return found;
  }
  return { upper, quantile };
}

/** ln of 2(ν/2)^(ν/2) e^(−ν/2) / Γ(ν/2). For large ν by Stirling's series, where the plain form loses its digits. */
function logConstant(df: number): number {
  const a = df / 2;
  if (a < 20) return Math.LN2 + a * Math.log(a) - a - logGamma(a);
  const series = 1 / (12 * a) - 1 / (360 * a ** 3) + 1 / (1260 * a ** 5) - 1 / (1680 * a ** 7);
  return Math.LN2 + 0.5 * Math.log(a / (2 * Math.PI)) - series;
}

/** Where a function with one peak is highest, by golden section. */
function peak(height: (at: number) => number, from: number, to: number): number {
  const golden = (Math.sqrt(5) - 1) / 2;
  let [a, b] = [from, to];
  let [c, d] = [b - golden * (b - a), a + golden * (b - a)];
  let [atC, atD] = [height(c), height(d)];
  while (b - a > 1e-6) {
    if (atC >= atD) {
      [b, d, atD] = [d, c, atC];
      c = b - golden * (b - a);
      atC = height(c);
    } else {
      [a, c, atC] = [c, d, atD];
      d = a + golden * (b - a);
      atD = height(d);
    }
  }
  return (a + b) / 2;
}

/** How far from the peak a function stays above `floor`, at most to `limit`. */
function edge(height: (at: number) => number, floor: number, mode: number, limit: number): number {
  let [inside, outside] = [mode, limit];
  if (height(limit) > floor) return limit;
  for (let step = 0; step < 30; step += 1) {
    const middle = (inside + outside) / 2;
    if (height(middle) > floor) inside = middle;
    else outside = middle;
  }
  return outside;
}

function interpolatedLog(tail: (u: number) => number, size: number): (u: number) => number {
  const nodes = Array.from({ length: size }, (_, i) => Math.cos((Math.PI * (i + 0.5)) / size));
  const steps: (Float64Array | undefined)[] = [];
  const coefficientsOf = (step: number) => {
    const values = nodes.map((x) => Math.log(tail(step + (x + 1) / 2)));
    return Float64Array.from(nodes, (_, degree) => {
      let sum = 0;
      for (let i = 0; i < size; i += 1) sum += values[i] * Math.cos((Math.PI * degree * (i + 0.5)) / size);
      return (degree === 0 ? 1 : 2) * (sum / size);
    });
  };
  return (u) => {
    if (u >= farthest) return Number.NEGATIVE_INFINITY;
    const step = Math.floor(u);
    steps[step] ??= coefficientsOf(step);
    const coefficients = steps[step];
    const x = 2 * (u - step) - 1;
    let [later, latest] = [0, 0];
    for (let degree = size - 1; degree > 0; degree -= 1)
      [latest, later] = [coefficients[degree] + 2 * x * latest - later, latest];
    return coefficients[0] + x * latest - later;
  };
}
