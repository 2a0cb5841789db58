import { listBeds } from "@/db/queries/list-beds";
import { listCovers } from "@/db/queries/list-covers";
import { listTrialBeds } from "@/db/queries/list-trial-beds";
import { listTrials } from "@/db/queries/list-trials";
import type { Fault } from "@/lib/words/fault";
import { sayLengthMm } from "@/lib/words/length";
import type { TrialPlan } from "@/lib/words/trial-plan";
import type { House } from "./house";
import { sameName } from "./same-name";

const endOfTime = "9999-12-31";

/** Faults that only the garden as it stands can show: beds of another size, ground that is taken. */
export function gardenMisfits(house: House, plan: TrialPlan): Fault[] {
  const { database } = house;
  const beds = listBeds(database);
  const covers = listCovers(database);
  const trials = listTrials(database);
  const trialBeds = listTrialBeds(database);
  const faults: Fault[] = [];
  plan.beds.forEach((wanted, index) => {
    const bed = beds.find((row) => sameName(row.name, wanted.name));
    if (!bed) return;
    for (const side of ["widthMm", "lengthMm"] as const) {
      if (bed[side] === wanted[side]) continue;
      const measure = `${bed.name} as it is kept, ${sayLengthMm(bed.widthMm)} × ${sayLengthMm(bed.lengthMm)}`;
      faults.push({ place: `beds.${index}.${side}`, found: sayLengthMm(wanted[side]), wanted: measure });
    }
    const taken = trials.find(
      (trial) =>
        trialBeds.some((row) => row.trialId === trial.id && row.id === bed.id) &&
        trial.plantedOn <= (plan.clearBy ?? endOfTime) &&
        plan.plantedOn <= (trial.closedOn ?? trial.clearBy ?? endOfTime),
    );
    if (taken) {
      const wantedWords = `a bed that is free from ${plan.plantedOn}; here stands the trial “${taken.question}”`;
      faults.push({ place: `beds.${index}.name`, found: bed.name, wanted: wantedWords });
    }
  });
  const overMainPlots = plan.mainPlots?.factor === "cover" ? plan.mainPlots.levels : [];
  const wantedCovers = [
    ...plan.covers.map((cover, index) => ({ cover, place: `covers.${index}.kind` })),
    ...overMainPlots.flatMap(({ cover }, index) =>
      cover ? [{ cover, place: `mainPlots.levels.${index}.cover` }] : [],
    ),
  ];
  for (const { cover: wanted, place } of wantedCovers) {
    const cover = covers.find((row) => sameName(row.name, wanted.name));
    if (cover && !sameName(cover.kind, wanted.kind)) {
      const wantedWords = `${cover.kind}, as ${cover.name} is kept, or another name`;
      faults.push({ place, found: wanted.kind, wanted: wantedWords });
    }
  }
  return faults;
}
