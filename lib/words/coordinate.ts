import { type Outcome, quoteFound, refusal, success } from "./fault";
import { parseNumber } from "./number";

const axes = {
  latitude: { plus: "N", minus: "S", most: 90, example: "54.2 or 54.2 N" },
  longitude: { plus: "E", minus: "W", most: 180, example: "2.3 W or −2.3" },
} as const;

/**
 * Reads a latitude or longitude in degrees as people write it: `54.2`, `54,2° N`, `2.3 W`, `−2.3`. South and west are
 * negative; a sign and a letter together are refused, since they may contradict each other.
 */
export function parseDegrees(text: string, axis: keyof typeof axes, place: string): Outcome<number> {
  const { plus, minus, most, example } = axes[axis];
  const wanted = `degrees from ${most} ${minus} to ${most} ${plus}, such as ${example}`;
  const match = new RegExp(`^(.*?)\\s*°?\\s*([${plus}${minus}])?$`, "i").exec(text.trim());
  const letter = match?.[2]?.toUpperCase();
  const number = parseNumber(match?.[1] ?? "", {
    place,
    minimum: letter ? 0 : -most,
    maximum: most,
    wanted,
  });
  if (!number.ok) return refusal([{ place, found: quoteFound(text), wanted }]);
  return success(letter === minus ? 0 - number.value : number.value);
}
