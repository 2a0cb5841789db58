/**
 * The likeliest standardised intercept z of a cluster of binomial counts whose logits are base + sd × z, z normal, and
 * the standard deviation that the curvature there implies: where adaptive quadrature stands.
 *
 * Newton's method between ends that must hold the mode, halving where its steps do not: where all or none have the
 * response it would leap to and fro across the flats.
 */
export function interceptMode(
  base: ArrayLike<number>,
  hits: ArrayLike<number>,
  setOut: ArrayLike<number>,
  sd: number,
): { mode: number; width: number } {
  let low = 0;
  let high = 0;
  for (let row = 0; row < base.length; row += 1) {
    low -= Math.abs(sd) * Math.max(setOut[row] - hits[row], hits[row]);
    high += Math.abs(sd) * Math.max(setOut[row] - hits[row], hits[row]);
  }
  let mode = 0;
  let bend = 1;
  let last = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 200; round += 1) {
    let pull = -mode;
    bend = 1;
    for (let row = 0; row < base.length; row += 1) {
      const share = 1 / (1 + Math.exp(-base[row] - sd * mode));
      pull += sd * (hits[row] - setOut[row] * share);
      bend += sd * sd * setOut[row] * share * (1 - share);
    }
    if (pull > 0) low = mode;
    else high = mode;
    const newton = mode + pull / bend;
    const trusted = newton > low && newton < high && Math.abs(newton - mode) <= last / 2;
    const next = trusted ? newton : (low + high) / 2;
    last = Math.abs(next - mode);
    mode = next;
    if (last < 1e-12 * (1 + Math.abs(mode))) break;
  }
  return { mode, width: 1 / Math.sqrt(bend) };
}
