import type { Caution } from "./finding";

/**
 * Every caution there is, the one that matters most first: what may turn the answer round stands before what only
 * widens it, and that before what is good to know.
 */
export const cautionCodes = [
  "rule-changed",
  "confounded",
  "one-plot-a-variety",
  "look-see",
  "treated-otherwise",
  "one-plot-decides",
  "best-cut-first",
  "unsettled",
  "never-seen",
  "not-seen-since",
  "not-picked",
  "few-main-plots",
  "alone-beside-many",
  "no-residual-df",
  "few-residual-df",
  "not-estimable",
  "no-ratio",
  "wiped-out",
  "none-lost",
  "all-lost",
  "tender-stood",
  "smallest-p",
  "many-comparisons",
  "unknown-causes",
  "kitchen-picks",
  "standing-only",
  "doubtful",
  "fillings-apart",
  "to-come",
  "rule-missing",
  "no-check",
  "plants-unknown",
  "area-unknown",
] as const;
export type CautionCode = (typeof cautionCodes)[number];

/** A caution with a code of the list. */
export function caution(code: CautionCode, text: string): Caution {
  return { code, text };
}

/** Cautions in the order in which they matter, each text once. */
export function inOrder(cautions: Caution[]): Caution[] {
  const place = (one: Caution) => cautionCodes.indexOf(one.code as CautionCode);
  const once = new Map(cautions.map((one) => [one.text, one]));
  return [...once.values()].sort((a, b) => place(a) - place(b));
}

/** Names for reading: `A1, A2 and B3`. */
export function listed(names: readonly string[]): string {
  if (names.length <= 1) return names.join("");
  return `${names.slice(0, -1).join(", ")} and ${names[names.length - 1]}`;
}

/** A count with its noun: `1 plot`, `3 plots`. */
export function counted(count: number, noun: string): string {
  return `${count} ${count === 1 ? noun : `${noun}s`}`;
}
