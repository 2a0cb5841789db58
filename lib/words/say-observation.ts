import { sayCause } from "./cause";
import { growthStage, sayGrowthStage } from "./growth-stage";
import type { Observation } from "./observation";
import { sayWeightG } from "./weight";

/** Plants as they are counted aloud: *one plant*, *3 plants*. */
export function sayPlants(count: number): string {
  return count === 1 ? "one plant" : `${count === 0 ? "no" : count} plants`;
}

/**
 * What a fact says, without its plot, day and person: *one plant gone to slugs*. `causeWords` gives the words of the
 * grower's own causes where they are at hand.
 */
export function sayObservation(fact: Observation, causeWords: (code: string) => string = sayCause): string {
  const plants = sayPlants(fact.amount ?? 0);
  const cause = fact.cause === null ? "" : causeWords(fact.cause);
  switch (fact.kind) {
    case "stand":
      return `${fact.amount} standing`;
    case "loss":
      if (fact.cause === "no-sign") return `${plants} gone without a sign`;
      return fact.cause === "unknown" ? `${plants} gone, cause unknown` : `${plants} gone to ${cause}`;
    case "removed":
      return `${plants} taken out: ${cause}`;
    case "added":
      return `${plants} set in a gap`;
    case "regrew":
      return `${plants} came again`;
    case "doubtful":
      return `${plants} doubtful`;
    case "not-seen":
      return "could not look";
    case "score":
      return fact.unit === "percent"
        ? `${fact.trait}: ${fact.amount} %`
        : `${fact.trait}: ${fact.amount} of 9`;
    case "count":
      if (fact.trait === growthStage) return `growth stage ${sayGrowthStage(fact.amount ?? 0)}`;
      return `${fact.trait}: ${fact.amount}`;
    case "harvest":
      if (fact.unit === "count") return `${fact.amount} ${fact.part ?? "pieces"} by number`;
      if (fact.amount === null) return "not picked";
      return fact.amount === 0 ? "nothing to pick" : `${sayWeightG(fact.amount)} picked`;
    case "ended":
      return "has ended";
    case "note":
      return fact.note ?? "";
    case "withdrawn":
      return `taken back: ${fact.note}`;
  }
}
