/**
 * One thing that is wrong with what somebody gave us, in the three parts that let them mend it.
 * `place` is a field name on a form (`plantsPerPlot`) or `file:line:column` in a file.
 */
export interface Fault {
  place: string;
  found: string;
  wanted: string;
}

/** An answer that is either the value or the whole list of what is wrong with the input; never half of each. */
export type Outcome<Value> = { ok: true; value: Value } | { ok: false; faults: Fault[] };

/** The value was understood. */
export function success<Value>(value: Value): Outcome<Value> {
  return { ok: true, value };
}

/** The value was not understood, for these reasons. */
export function refusal(faults: Fault[]): { ok: false; faults: Fault[] } {
  return { ok: false, faults };
}

/** How a found value is quoted in a fault: short, and never empty. */
export function quoteFound(found: string): string {
  const trimmed = found.trim();
  if (trimmed === "") return "nothing";
  return trimmed.length > 60 ? `${trimmed.slice(0, 57)}…` : trimmed;
}
