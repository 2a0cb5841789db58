import { type Fault, type Outcome, quoteFound, refusal, success } from "./fault";

export interface NumberRule {
  /** The name of the field or `file:line:column`. */
  place: string;
  minimum?: number;
  maximum?: number;
  whole?: boolean;
  /** What would be right, in words; made from the limits when left out. */
  wanted?: string;
}

function wantedWords(rule: NumberRule): string {
  if (rule.wanted) return rule.wanted;
  const kind = rule.whole ? "a whole number" : "a number";
  if (rule.minimum !== undefined && rule.maximum !== undefined)
    return `${kind} from ${rule.minimum} to ${rule.maximum}`;
  if (rule.minimum !== undefined) return `${kind} of ${rule.minimum} or more`;
  if (rule.maximum !== undefined) return `${kind} of ${rule.maximum} or less`;
  return kind;
}

/**
 * Reads a number as a person types it: `3`, `1.5`, `1,5`, ` 1 200 `. A comma followed by exactly three digits and
 * nothing else (`1,200`) is refused, since it means 1200 to one reader and 1.2 to another.
 */
export function parseNumber(text: string, rule: NumberRule): Outcome<number> {
  const fault: Fault = { place: rule.place, found: quoteFound(text), wanted: wantedWords(rule) };
  const compact = text
    .trim()
    .replace(/[\s\u00a0\u202f]/g, "")
    .replace("−", "-");
  if (/^-?[1-9]\d{0,2},\d{3}$/.test(compact)) {
    return refusal([{ ...fault, wanted: `${fault.wanted}, without a thousands comma` }]);
  }
  if (!/^-?\d+(?:[.,]\d+)?$/.test(compact)) return refusal([fault]);
  const value = Number(compact.replace(",", "."));
  const inRange = value >= (rule.minimum ?? -Infinity) && value <= (rule.maximum ?? Infinity);
  if (!Number.isFinite(value) || !inRange || (rule.whole && !Number.isInteger(value)))
    return refusal([fault]);
  return success(value);
}
