import type { AnovaRow } from "@/lib/analysis/finding";
import { sayP } from "@/lib/words/say-number";

function digits(value: number | null, count: number): string {
  return value === null ? "" : String(Number(value.toPrecision(count))).replace("-", "−");
}

/** An analysis of variance as a table of words, with a column of denominator df where the model has them. */
export function anovaRows(anova: AnovaRow[]): { headings: string[]; rows: string[][] } {
  const hasDf2 = anova.some((row) => row.df2 !== null);
  return {
    headings: ["term", "df", ...(hasDf2 ? ["df of error"] : []), "sum of squares", "mean square", "F", "p"],
    rows: anova.map((row) => [
      row.term,
      digits(row.df, 4),
      ...(hasDf2 ? [digits(row.df2, 4)] : []),
      digits(row.ss, 6),
      digits(row.ms, 6),
      digits(row.f, 5),
      row.p === null ? "" : sayP(row.p),
    ]),
  };
}
