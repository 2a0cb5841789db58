/** Ranks from 1, tied values sharing the mean of theirs; and Σ(t³ − t) over ties of t values. */
export function midRanks(values: readonly number[]): { ranks: number[]; ties: number } {
  const order = values.map((_, place) => place).sort((one, other) => values[one] - values[other]);
  const ranks: number[] = new Array(values.length);
  let ties = 0;
  for (let start = 0; start < order.length; ) {
    let end = start + 1;
    while (end < order.length && values[order[end]] === values[order[start]]) end += 1;
    for (let place = start; place < end; place += 1) ranks[order[place]] = (start + 1 + end) / 2;
    ties += (end - start) ** 3 - (end - start);
    start = end;
  }
  return { ranks, ties };
}
