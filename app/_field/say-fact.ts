import type { FieldPack } from "@/lib/sync/field-pack";
import { sayCause } from "@/lib/words/cause";
import type { Observation } from "@/lib/words/observation";
import { sayWeightG } from "@/lib/words/weight";

/** Plants as they are counted aloud: *one plant*, *3 plants*. */
export function sayPlants(count: number): string {
  return count === 1 ? "one plant" : `${count === 0 ? "no" : count} plants`;
}

/** The words of a cause, the grower's own among them. */
export function sayPackCause(pack: FieldPack, code: string): string {
  return pack.causes.find((cause) => cause.code === code)?.words ?? sayCause(code);
}

/** What a fact says, without its plot, day and person: *one plant gone to slugs*. */
export function sayFact(fact: Observation, pack: FieldPack): string {
  const plants = sayPlants(fact.amount ?? 0);
  const cause = fact.cause === null ? "" : sayPackCause(pack, fact.cause);
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

/** The stake code of a fact's plot, or its id where this phone does not know the plot. */
export function sayPlot(pack: FieldPack | null, plotId: string): string {
  return pack?.beds.flatMap((bed) => bed.plots).find((plot) => plot.id === plotId)?.code ?? plotId;
}
