import type { Tally } from "./calibration-trials";

export const coverage = ({ hits, trials }: Tally) => hits / trials;
export const percent = (share: number, digits = 1) => (100 * share).toFixed(digits);

/** Several tallies as one row of figures: cells, least, first percentile, mean, share over 98.5 %, mean width. */
export function summary(tallies: Tally[]) {
  const shares = tallies.map(coverage).sort((a, b) => a - b);
  const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  return {
    cells: shares.length,
    least: shares[0],
    first: shares[Math.floor(0.01 * shares.length)],
    mean: mean(shares),
    over: shares.filter((share) => share > 0.985).length / shares.length,
    width: mean(tallies.map((tally) => tally.width / tally.trials)),
  };
}

export function printTable(head: string[], rows: (string | number)[][]): void {
  console.log(`| ${head.join(" | ")} |`);
  console.log(`| ${head.map(() => "---").join(" | ")} |`);
  for (const row of rows) console.log(`| ${row.join(" | ")} |`);
  console.log("");
}
