import { insist } from "./requirement";

/**
 * Where a function changes sign between two points, by halving until no number lies between: slow, and good to the last
 * digit. The function may jump, but must not have the same sign at both ends.
 */
export function rootBetween(value: (at: number) => number, from: number, to: number): number {
  let [a, b] = [from, to];
  const atA = value(a);
  const atB = value(b);
  if (atA === 0) return a;
  if (atB === 0) return b;
  insist(atA > 0 !== atB > 0, "rootBetween", "a change of sign", `${atA} at ${a}, ${atB} at ${b}`);
  for (;;) {
    const middle = a + (b - a) / 2;
    if (middle === a || middle === b) return middle;
    const atMiddle = value(middle);
    if (atMiddle === 0) return middle;
    if (atMiddle > 0 === atA > 0) a = middle;
    else b = middle;
  }
}
