import { type Outcome, quoteFound, refusal, success } from "./fault";
import { parseNumber } from "./number";

const longestMm = 200_000;
const perUnitMm: Record<string, number> = { mm: 1, cm: 10, m: 1000 };

/**
 * Reads a length and gives whole millimetres: `1.2 m`, `120 cm`, `1200 mm`, `30`. A bare number is centimetres, the
 * measure of a garden line; the form says so beside the field.
 */
export function parseLengthMm(text: string, place: string): Outcome<number> {
  const wanted = "a length such as 120 cm or 1.2 m";
  const match = /^(.*?)\s*(mm|cm|m)?$/i.exec(text.trim());
  const unitMm = perUnitMm[match?.[2]?.toLowerCase() ?? "cm"];
  const number = parseNumber(match?.[1] ?? "", {
    place,
    minimum: 1 / unitMm,
    maximum: longestMm / unitMm,
    wanted,
  });
  if (!number.ok) return refusal([{ place, found: quoteFound(text), wanted }]);
  return success(Math.round(number.value * unitMm));
}

/** A length for reading: `30 cm`, `1.2 m`. */
export function sayLengthMm(lengthMm: number): string {
  if (lengthMm < 1000) return `${Number((lengthMm / 10).toFixed(1))} cm`;
  return `${Number((lengthMm / 1000).toFixed(2))} m`;
}
