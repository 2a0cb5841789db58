import { insist } from "./requirement";

/**
 * Where a smooth function that is dear to reckon crosses 0 between two points: the secant's crossing, with the Illinois
 * rule against an end that stays put. Ten or so evaluations where `rootBetween` needs fifty.
 *
 * @param tolerance how closely the root is to be told
 * Source: dowell-jarratt-1971.
 */
export function rootBySecant(
  value: (at: number) => number,
  from: number,
  to: number,
  tolerance: number,
): number {
  let [a, b] = [from, to];
  let atA = value(a);
  let atB = value(b);
  insist(atA > 0 !== atB > 0, "rootBySecant", "a change of sign", `${atA} at ${a}, ${atB} at ${b}`);
  for (let round = 0; round < 200; round += 1) {
    const crossing = (a * atB - b * atA) / (atB - atA);
    const at = Number.isFinite(crossing) ? crossing : (a + b) / 2;
    const here = value(at);
    if (here === 0 || Math.abs(at - b) <= tolerance) return at;
    if (here > 0 === atB > 0) atA /= 2;
    else [a, atA] = [b, atB];
    [b, atB] = [at, here];
  }
  return b;
}
