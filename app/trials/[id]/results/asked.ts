import type { FindingsQuestion } from "@/lib/service/trial-findings";
import { isDay } from "@/lib/words/day";

export const perChoices = [
  { value: "plant", words: "per plant set out" },
  { value: "m2", words: "per square metre" },
  { value: "standing", words: "per plant standing" },
  { value: "plot", words: "per plot" },
] as const;

export interface ResultsAsked extends FindingsQuestion {
  /** The cover or sowing whose varieties are to be shown alone, where whole main plots were dealt them. */
  under?: string;
}

/** What somebody wants to see of the results, as the address says it; what cannot be meant is as though not said. */
export function askedOf(search: (name: string) => string | null, codes: readonly string[]): ResultsAsked {
  const at = search("at");
  const without = search("without");
  const under = search("under");
  return {
    ...(at !== null && isDay(at) && { at }),
    yieldPer: perChoices.find((choice) => choice.value === search("per"))?.value ?? "plant",
    ...(without !== null && codes.includes(without) && { leavingOut: without }),
    ...(under && { under }),
  };
}

/** The same as part of an address, so that it can be sent on: `?at=2026-01-03&without=A1`, or nothing. */
export function addressOf({ at, yieldPer, leavingOut, under }: ResultsAsked): string {
  const parts = new URLSearchParams();
  if (at) parts.set("at", at);
  if (yieldPer && yieldPer !== "plant") parts.set("per", yieldPer);
  if (leavingOut) parts.set("without", leavingOut);
  if (under) parts.set("under", under);
  return parts.size === 0 ? "" : `?${parts}`;
}
