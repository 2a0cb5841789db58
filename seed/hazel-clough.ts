import { amendPlot } from "@/lib/service/amend-plot";
import { closeTrial } from "@/lib/service/close-trial";
import { createTrial } from "@/lib/service/create-trial";
import type { House } from "@/lib/service/house";
import { recordVerdict } from "@/lib/service/record-verdict";
import { startGarden } from "@/lib/service/start-garden";
import { type TrialView, trialView } from "@/lib/service/trial-view";
import type { Day } from "@/lib/words/day";
import type { Outcome } from "@/lib/words/fault";
import type { VerdictChoice } from "@/lib/words/trial";
import type { TrialPlan } from "@/lib/words/trial-plan";
import { beansNextSpringPlan } from "./beans-next-spring";
import { kaleLastWinterPlan, kaleLastWinterSeason } from "./kale-last-winter";
import { mustardLastWinterPlan, mustardLastWinterSeason } from "./mustard-last-winter";
import { mustardThisWinterPlan, mustardThisWinterSeason } from "./mustard-this-winter";
import { type Notebook, notebook, onEvening } from "./notebook";
import { recordSeason, type Season } from "./season";
import truth from "./truth.json";

const on = (day: string) => day as Day;

function taken<Value>(outcome: Outcome<Value>): Value {
  if (!outcome.ok)
    throw new Error(`loadHazelClough requires a plan that is taken; got ${JSON.stringify(outcome.faults)}`);
  return outcome.value;
}

function plan(house: House, day: Day, trialPlan: TrialPlan): TrialView {
  const planned = onEvening(house, day);
  const { trialId } = taken(createTrial(planned, trialPlan));
  return trialView(planned, trialId) as TrialView;
}

function walk(
  house: House,
  book: Notebook,
  trial: TrialView,
  season: Season,
  truthOf: keyof typeof truth.trials,
  seed: number,
): void {
  recordSeason(book, trial, truth.trials[truthOf], season, seed, house.newId);
  book.bringHome();
  const { drowned } = season;
  if (drowned === null) return;
  const plot = trial.plots.find(({ code }) => code === drowned.code);
  taken(
    amendPlot(onEvening(house, drowned.day), {
      trialId: trial.id,
      plotId: plot?.id ?? "",
      kind: "excluded",
      fromOn: drowned.day,
      reason: drowned.note,
      by: "Joss",
    }),
  );
}

function judge(
  house: House,
  trial: TrialView,
  day: Day,
  verdicts: Record<string, { choice: VerdictChoice; reason: string }>,
): void {
  for (const [variety, verdict] of Object.entries(verdicts)) {
    const entry = trial.entries.find((one) => one.variety === variety);
    taken(
      recordVerdict(onEvening(house, day), {
        trialId: trial.id,
        entryId: entry?.id ?? "",
        by: "Ina",
        ...verdict,
      }),
    );
  }
}

/**
 * Fills an empty file with Hazel Clough, an invented walled garden in a cold valley: a winter of mustard greens and one
 * of kale, both closed (one verdict is still owed), the mustard greens' second winter as it stood on 22 November 2026,
 * and a trial of broad beans planned for spring. Days are fixed: the garden was made for 25 November 2026.
 *
 * Losses and weights come from a seeded simulation (`simulate.ts`) of the true values in `truth.json`; everything is
 * written through the services like anybody's.
 */
export function loadHazelClough(house: House): void {
  const garden = {
    name: "Hazel Clough",
    timeZone: "Europe/London",
    latitude: 54.2,
    longitude: -2.3,
    altitudeM: 190,
    isDemo: true,
  };
  taken(startGarden(onEvening(house, on("2025-06-20")), garden));
  const book = notebook(house);

  const kale = plan(house, on("2025-06-22"), kaleLastWinterPlan);
  const mustard = plan(house, on("2025-08-10"), mustardLastWinterPlan);
  walk(house, book, kale, kaleLastWinterSeason, "kale-last-winter", 8);
  walk(house, book, mustard, mustardLastWinterSeason, "mustard-last-winter", 11);
  taken(
    closeTrial(onEvening(house, on("2026-05-01")), mustard.id, {
      reason: "Bed wanted for beans; everything assessed.",
      by: "Ina",
    }),
  );
  judge(house, mustard, on("2026-05-03"), {
    Carrow: {
      choice: "grow again",
      reason:
        "Still leafy when the others ran up to flower, and hardly marked by the frost. On one winter only.",
    },
    Hollin: {
      choice: "try once more",
      reason: "Gave the most, but was badly marked in January. Once more before the packet is believed.",
    },
  });
  taken(
    closeTrial(onEvening(house, on("2026-05-15")), kale.id, {
      reason: "Running to flower; everything assessed.",
      by: "Joss",
    }),
  );
  judge(house, kale, on("2026-05-17"), {
    Longstone: {
      choice: "grow again",
      reason: "Heaviest in April, when there was nothing else. On one winter only.",
    },
    "Wick Hill": {
      choice: "try once more",
      reason: "Root fly emptied one plot at the start; the other two were good. Not proved either way.",
    },
  });

  const second = plan(house, on("2026-08-16"), mustardThisWinterPlan);
  walk(house, book, second, mustardThisWinterSeason, "mustard-this-winter", 5);
  plan(house, on("2026-11-20"), beansNextSpringPlan);
}
