/** A true minus sign instead of the hyphen that `toFixed` gives; a rounded zero carries no sign. */
function withMinus(digits: string): string {
  if (!/[1-9]/.test(digits)) return digits.replace("-", "");
  return digits.replace("-", "−");
}

/** A number with so many decimals: `−3.20`. */
export function sayDecimal(value: number, decimals: number): string {
  return withMinus(value.toFixed(decimals));
}

/** How many decimals a figure deserves when it is only known to about `uncertainty`: two digits of that are kept. */
export function decimalsFor(uncertainty: number | null): number {
  if (uncertainty === null || !(uncertainty > 0) || !Number.isFinite(uncertainty)) return 0;
  return Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(uncertainty))));
}

/** A number rounded to the precision it has: `sayRounded(141.37, 8.2)` is `141.4`, `sayRounded(141.37, 60)` is `141`. */
export function sayRounded(value: number, uncertainty: number | null): string {
  return sayDecimal(value, decimalsFor(uncertainty));
}

/** A number rounded to its precision that always shows its sign, for differences: `+12`, `−5`, `0`. */
export function saySigned(value: number, uncertainty: number | null): string {
  const said = sayRounded(value, uncertainty);
  return /[1-9]/.test(said) && value > 0 ? `+${said}` : said;
}

/** A share as whole plants in a hundred; never rounded to none or all unless it is. */
export function inAHundred(share: number): number {
  const rounded = Math.round(share * 100);
  if (rounded === 0 && share > 0) return 1;
  if (rounded === 100 && share < 1) return 99;
  return rounded;
}

/** A share for tables and axes: `87 %`. */
export function sayPercent(share: number): string {
  return `${inAHundred(share)} %`;
}

/** A difference of two shares in points, with its sign: `+12`, `−5`, `0`; halves go away from zero, as in sentences. */
export function sayPoints(difference: number): string {
  return saySigned(Math.sign(difference) * Math.round(Math.abs(difference) * 100), null);
}

/** A p for tables: two digits, between `under 0.001` and `over 0.99`. It never stands without its effect. */
export function sayP(p: number): string {
  if (p < 0.001) return "under 0.001";
  if (p > 0.99) return "over 0.99";
  return p < 0.1 ? p.toFixed(3) : p.toFixed(2);
}

/** The same within a sentence: `p = 0.03`, `p under 0.001`. */
export function sayPIs(p: number): string {
  const said = sayP(p);
  return /^(under|over) /.test(said) ? `p ${said}` : `p = ${said}`;
}
