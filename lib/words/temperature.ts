import { type Outcome, quoteFound, refusal, success } from "./fault";
import { parseNumber } from "./number";

const coldestC = -60;
const hottestC = 60;

/** Reads a temperature in °C as it is said (`-3.5`, `−3,5`, `4 °C`) and gives tenths of a degree. */
export function parseTenthsC(text: string, place: string): Outcome<number> {
  const wanted = "a temperature in °C such as -3.5 or 4";
  const bare = text
    .trim()
    .replace(/\s*°?\s*c$/i, "")
    .replace(/\s*°$/, "");
  const number = parseNumber(bare, { place, minimum: coldestC, maximum: hottestC, wanted });
  if (!number.ok) return refusal([{ place, found: quoteFound(text), wanted }]);
  return success(Math.round(number.value * 10));
}

/** A temperature for reading: `−3.5 °C`, `4 °C`. */
export function sayTenthsC(tenthsC: number): string {
  const figure = (Math.abs(tenthsC) / 10).toFixed(1).replace(/\.0$/, "");
  return `${tenthsC < 0 ? "−" : ""}${figure} °C`;
}
