import { insist } from "./requirement";

/** A grouping of observations: its levels in a fixed order, and the level of each observation as 0, 1, 2 … */
export interface Factor {
  name: string;
  levels: readonly string[];
  codes: readonly number[];
}

/** A number beside each observation, such as the plants standing in its plot. */
export interface Covariate {
  name: string;
  values: readonly number[];
}

export type Variable = Factor | Covariate;

export const isFactor = (variable: Variable): variable is Factor => "codes" in variable;

/**
 * A factor from one name per observation.
 *
 * @param levels their order; by default the order of first appearance. A level that no observation has is left out,
 * because nothing can be said of it.
 */
export function factor(name: string, values: readonly string[], levels?: readonly string[]): Factor {
  const present = new Set(values);
  const order = (levels ?? [...present]).filter((level) => present.has(level));
  const place = new Map(order.map((level, index) => [level, index]));
  const codes = values.map((value) => {
    const code = place.get(value);
    insist(code !== undefined, "factor", `every value of ${name} among its levels`, value);
    return code;
  });
  return { name, levels: order, codes };
}

/** One factor from several: a level for every combination that occurs, such as cover within block. */
export function crossedFactor(name: string, factors: readonly Factor[]): Factor {
  insist(factors.length > 0, "crossedFactor", "at least one factor", factors.length);
  return factor(
    name,
    factors[0].codes.map((_, plot) => factors.map(({ levels, codes }) => levels[codes[plot]]).join(" × ")),
  );
}
