import { listWeather } from "@/db/queries/list-weather";
import { type ColdSpell, coldBetweenLooks, frostDeciC, type Night } from "@/lib/analysis/cold-nights";
import type { TrialFindings } from "@/lib/analysis/finding";
import type { House } from "./house";

/** The frosts that a trial went through, where the weather outside is known. */
export interface ColdNights {
  /** Nights below 0 °C. */
  frosts: Night[];
  betweenLooks: ColdSpell[];
}

/** The nights outside over the days that a trial's standing is told of; null where nobody read a thermometer. */
export function coldNights({ database }: House, { standing }: TrialFindings): ColdNights | null {
  const looks = [
    ...new Set((standing?.value ?? []).flatMap((curve) => curve.steps.map((step) => step.day))),
  ].sort();
  if (looks.length < 2) return null;
  const nights = listWeather(database, looks[0], looks[looks.length - 1]).flatMap(
    ({ day, place, minDeciC }): Night[] =>
      place === "outside" && minDeciC !== null ? [{ day, minDeciC }] : [],
  );
  if (nights.length === 0) return null;
  return {
    frosts: nights.filter((night) => night.minDeciC < frostDeciC),
    betweenLooks: coldBetweenLooks(looks, nights),
  };
}
