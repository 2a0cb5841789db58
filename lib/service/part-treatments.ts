import { listBedFacts } from "@/db/queries/list-bed-facts";
import { listTrialBeds } from "@/db/queries/list-trial-beds";
import type { PartTreatment } from "@/lib/analysis/trial-record";
import { inForce } from "@/lib/journal/in-force";
import type { Day } from "@/lib/words/day";
import type { House } from "./house";

/**
 * What was done to part of a trial only, from planting to its close: to part of a bed, or on a day to some of the trial's
 * beds and not to the others.
 */
export function partTreatments(
  { database }: Pick<House, "database">,
  trial: { id: string; plantedOn: Day; closedOn: Day | null },
): PartTreatment[] {
  const beds = listTrialBeds(database, trial.id);
  const names = new Map(beds.map((row) => [row.id, row.name]));
  const facts = listBedFacts(database, { bedIds: [...names.keys()], since: trial.plantedOn });
  const done = inForce(facts).filter(
    (fact) => fact.kind === "treatment" && (trial.closedOn === null || fact.seenOn <= trial.closedOn),
  );
  const acts = new Map<string, { what: string; on: Day; whole: Set<string>; part: Set<string> }>();
  for (const { what, seenOn, bedId, reach } of done) {
    const key = `${seenOn}/${what}`;
    const act = acts.get(key) ?? { what: what ?? "", on: seenOn, whole: new Set(), part: new Set() };
    (reach === "part" ? act.part : act.whole).add(names.get(bedId) ?? "");
    acts.set(key, act);
  }
  return [...acts.values()]
    .filter((act) => act.whole.size < beds.length)
    .map(({ what, on, whole, part }) => ({
      what,
      on,
      place: [...whole, ...[...part].filter((bed) => !whole.has(bed)).map((bed) => `part of ${bed}`)].join(
        ", ",
      ),
    }));
}
