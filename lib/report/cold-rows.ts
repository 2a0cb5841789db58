import type { ColdSpell } from "@/lib/analysis/cold-nights";
import { sayDay } from "@/lib/words/day";
import { sayDecimal } from "@/lib/words/say-number";

/** The cold between walkabouts, a row for each stretch that had any frost. */
export function coldRows(spells: ColdSpell[]): { headings: string[]; rows: string[][] } {
  return {
    headings: ["after", "by", "nights below 0 °C", "below −5 °C", "coldest"],
    rows: spells
      .filter((spell) => spell.belowFreezing > 0)
      .map((spell) => [
        sayDay(spell.from),
        sayDay(spell.until),
        String(spell.belowFreezing),
        String(spell.belowMinusFive),
        spell.coldestDeciC === null ? "–" : `${sayDecimal(spell.coldestDeciC / 10, 1)} °C`,
      ]),
  };
}
