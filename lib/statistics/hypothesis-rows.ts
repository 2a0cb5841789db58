import { type DesignMatrix, designRow, type Term } from "./design-matrix";
import { isFactor } from "./factor";

/**
 * The type III hypothesis of a term, as weights on the design's columns: marginal means of a factor are all alike; for an
 * interaction, its differences of differences are all 0; for a covariate, its slope is 0.
 *
 * Each level but the first is set against the first, in every factor of the term at once.
 */
export function hypothesisRows(design: DesignMatrix, term: Term): Float64Array[] {
  const factors = design.variables.filter((variable) => term.includes(variable.name)).filter(isFactor);
  if (factors.length < term.length) {
    const own = design.terms.indexOf(term);
    return design.termOf.flatMap((of, place) => {
      if (of !== own) return [];
      const row = new Float64Array(design.columns.length);
      row[place] = 1;
      return [row];
    });
  }
  let signed: { sign: number; at: Record<string, string> }[][] = [[{ sign: 1, at: {} }]];
  for (const { name, levels } of factors) {
    const [first, ...others] = levels;
    signed = signed.flatMap((cells) =>
      others.map((level) =>
        cells.flatMap(({ sign, at }) => [
          { sign, at: { ...at, [name]: level } },
          { sign: -sign, at: { ...at, [name]: first } },
        ]),
      ),
    );
  }
  return signed.map((cells) => {
    const sum = new Float64Array(design.columns.length);
    for (const { sign, at } of cells)
      for (const [place, value] of designRow(design, at).entries()) sum[place] += sign * value;
    return sum;
  });
}
