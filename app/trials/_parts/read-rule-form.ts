import type { Fault, Outcome } from "@/lib/words/fault";
import { parseNumber } from "@/lib/words/number";

const fewestQualities = 2;
const mostQualities = 12;

/** How many rows for other qualities the form shows. */
export function qualityCount(values: Record<string, string>): number {
  const shown = Number(values["rows.qualities"]);
  return Math.min(mostQualities, Math.max(fewestQualities, Number.isInteger(shown) ? shown : 0));
}

/** The same values with one row more for a quality. */
export function withQuality(values: Record<string, string>): Record<string, string> {
  return { ...values, "rows.qualities": String(qualityCount(values) + 1) };
}

/**
 * The decision rule as it was typed, in percentages; an empty floor does not decide. What cannot be read stays as typed,
 * for the service to refuse. `fields` tells which row of the form a quality came from.
 */
export function readRuleForm(values: Record<string, string>): {
  rule: Record<string, unknown>;
  faults: Fault[];
  fields: Map<string, string>;
} {
  const faults: Fault[] = [];
  const fields = new Map<string, string>();
  const typed = (field: string) => (values[field] ?? "").trim();
  const take = (outcome: Outcome<number>, field: string): unknown => {
    if (outcome.ok) return outcome.value / 100;
    faults.push(...outcome.faults);
    return typed(field);
  };
  const percent = (field: string, minimum: number, maximum: number) =>
    take(
      parseNumber(typed(field).replace(/\s*%$/, ""), {
        place: field,
        minimum,
        maximum,
        wanted: `a percentage from ${minimum} to ${maximum}`,
      }),
      field,
    );
  const percentOrNone = (field: string, maximum: number) =>
    typed(field) === "" ? null : percent(field, 0, maximum);

  const rows = Array.from({ length: qualityCount(values) }, (_, row) => row).filter(
    (row) => typed(`rule.qualities.${row}.trait`) !== "",
  );
  const qualities = rows.map((row, position) => {
    for (const part of ["trait", "weight"])
      fields.set(`rule.qualities.${position}.${part}`, `rule.qualities.${row}.${part}`);
    return {
      trait: typed(`rule.qualities.${row}.trait`),
      weight: typed(`rule.qualities.${row}.weight`),
    };
  });
  const rule = {
    survivalFloor: percentOrNone("rule.survivalFloor", 100),
    yieldFloor: percentOrNone("rule.yieldFloor", 500),
    sureness: percent("rule.sureness", 50, 99),
    qualities,
  };
  return { rule, faults, fields };
}
