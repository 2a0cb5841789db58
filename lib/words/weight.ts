import { type Outcome, quoteFound, refusal, success } from "./fault";
import { parseNumber } from "./number";

const heaviestG = 500_000;

/**
 * Reads a weight as it is said at the kitchen scale and gives whole grams: `450`, `450 g`, `1,2 kg`, `1.2kg`, `0`.
 * A bare number is grams. Anything over 500 kg is a slip of the finger and is refused.
 */
export function parseWeightG(text: string, place: string): Outcome<number> {
  const wanted = "a weight such as 450, 450 g or 1,2 kg";
  const match = /^(.*?)\s*(kg|g|gr|grams?|kilos?)?\.?$/i.exec(text.trim());
  const unit = match?.[2]?.toLowerCase() ?? "g";
  const perUnitG = unit.startsWith("k") ? 1000 : 1;
  const number = parseNumber(match?.[1] ?? "", { place, minimum: 0, maximum: heaviestG / perUnitG, wanted });
  if (!number.ok) return refusal([{ place, found: quoteFound(text), wanted }]);
  return success(Math.round(number.value * perUnitG));
}

/** A weight for reading: `450 g`, `1.25 kg`. */
export function sayWeightG(weightG: number): string {
  if (Math.abs(weightG) < 1000) return `${Math.round(weightG)} g`;
  return `${(weightG / 1000).toFixed(2).replace(/\.?0+$/, "")} kg`;
}
