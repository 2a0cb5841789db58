import { type Day, sayDay } from "@/lib/words/day";
import type { VerdictChoice } from "@/lib/words/trial";

/** What a trial's answer rests on, and how sure it is: *From 120 plants in 20 plots as of Sat 28 Mar 2026; …* */
export function sentenceForSureness(answer: {
  asOf: Day | null;
  plants: number;
  plots: number;
  reach: number | null;
}): string {
  const { asOf, plants, plots, reach } = answer;
  const day = asOf ? ` as of ${sayDay(asOf, true)}` : "";
  const known =
    reach === null
      ? ""
      : `; each variety’s share is known to about ${Math.max(1, Math.round(reach * 100))} in a hundred either way`;
  return `From ${plants} plants in ${plots} ${plots === 1 ? "plot" : "plots"}${day}${known}.`;
}

const choices = ["grow again", "try once more", "drop"] as const satisfies readonly VerdictChoice[];

/** The verdicts of a trial: *Grow again: Carrow. Try once more: Hollin and Tansy Mill.* Empty where none was given. */
export function sentenceForVerdicts(verdicts: readonly { variety: string; choice: VerdictChoice }[]): string {
  return choices
    .flatMap((choice) => {
      const names = verdicts.filter((one) => one.choice === choice).map((one) => one.variety);
      if (names.length === 0) return [];
      const listed = names.length === 1 ? names[0] : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;
      return [`${choice.charAt(0).toUpperCase()}${choice.slice(1)}: ${listed}.`];
    })
    .join(" ");
}

/** What is still to be decided: *2 verdicts are still to be given.* */
export function sentenceForOwed(count: number): string {
  return count === 1 ? "One verdict is still to be given." : `${count} verdicts are still to be given.`;
}
