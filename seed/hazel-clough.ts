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
import { chardLastWinterPlan, chardLastWinterSeason } from "./chard-last-winter";
import { chardWinterBeforePlan, chardWinterBeforeSeason } from "./chard-winter-before";
import { kaleLastWinterPlan, kaleLastWinterSeason } from "./kale-last-winter";
import { lambsLettuceLastWinterPlan, lambsLettuceLastWinterSeason } from "./lambs-lettuce-last-winter";
import { leeksLastWinterPlan, leeksLastWinterSeason } from "./leeks-last-winter";
import { mustardLastWinterPlan, mustardLastWinterSeason } from "./mustard-last-winter";
import { mustardThisWinterPlan, mustardThisWinterSeason } from "./mustard-this-winter";
import { type Notebook, notebook, onEvening } from "./notebook";
import { recordSeason, type Season } from "./season";
import truth from "./truth.json";
import { loadWinterWeather } from "./winter-weather";

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

const onePlotEach = "Stood, but one plot cannot tell a sort from its spot: into a proper trial.";
const notWorthATrial = "Others stood better for the same room; seed given on.";

const leekVerdicts: Record<string, { choice: VerdictChoice; reason: string }> = {
  "Stone Rigg": { choice: "try once more", reason: onePlotEach },
  "Oxen Side": { choice: "try once more", reason: onePlotEach },
  "Rook Howe": { choice: "try once more", reason: onePlotEach },
  "Pale Gill": { choice: "try once more", reason: onePlotEach },
  "Hag Dyke": { choice: "drop", reason: notWorthATrial },
  "Far Moss": { choice: "drop", reason: notWorthATrial },
  "Whin Bank": { choice: "drop", reason: notWorthATrial },
  "Long Mire": {
    choice: "drop",
    reason: "Half gone, as its packet warns: for use before Christmas.",
  },
  "Low Garth": { choice: "drop", reason: "None left in March." },
};

/**
 * Fills an empty file with Hazel Clough, an invented walled garden in a cold valley: a winter of mustard greens (one
 * verdict is still owed), of kale, of lamb's lettuce with and without fleece, of leeks in a look-see bed, and of chard, which had a
 * winter before that one, all closed; the mustard greens' second winter as it stood on 22 November 2026, and a trial of broad
 * beans planned for spring. Days are fixed: the garden was made for 25 November 2026.
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
  taken(startGarden(onEvening(house, on("2024-06-20")), garden));
  const book = notebook(house);

  const firstChard = plan(house, on("2024-06-30"), chardWinterBeforePlan);
  walk(house, book, firstChard, chardWinterBeforeSeason, "chard-winter-before", 2);
  taken(
    closeTrial(onEvening(house, on("2025-04-19")), firstChard.id, {
      reason: "Bed wanted for courgettes; everything assessed.",
      by: "Ina",
    }),
  );
  judge(house, firstChard, on("2025-04-20"), {
    "Copper Beck": { choice: "try once more", reason: "Most came again, but on one winter only." },
    "Amber Holm": { choice: "try once more", reason: "Few came again; once more before it is given up." },
  });

  const leeks = plan(house, on("2025-06-21"), leeksLastWinterPlan);
  const kale = plan(house, on("2025-06-22"), kaleLastWinterPlan);
  const chard = plan(house, on("2025-07-01"), chardLastWinterPlan);
  const mustard = plan(house, on("2025-08-10"), mustardLastWinterPlan);
  const lambsLettuce = plan(house, on("2025-08-17"), lambsLettuceLastWinterPlan);
  walk(house, book, leeks, leeksLastWinterSeason, "leeks-last-winter", 3);
  walk(house, book, chard, chardLastWinterSeason, "chard-last-winter", 4);
  walk(house, book, lambsLettuce, lambsLettuceLastWinterSeason, "lambs-lettuce-last-winter", 6);
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

  taken(
    closeTrial(onEvening(house, on("2026-04-04")), lambsLettuce.id, {
      reason: "Running to flower; everything assessed.",
      by: "Morwen",
    }),
  );
  judge(house, lambsLettuce, on("2026-04-06"), {
    "Cold Keld": {
      choice: "grow again",
      reason: "Stood without the fleece nearly as well as the old one. On one winter only.",
    },
    "Sallow Gate": {
      choice: "drop",
      reason: "Half of it gone, and most of that in the open. It may go back in the frame.",
    },
  });
  taken(
    closeTrial(onEvening(house, on("2026-04-18")), chard.id, {
      reason: "Bed wanted for courgettes; everything assessed.",
      by: "Ina",
    }),
  );
  judge(house, chard, on("2026-04-19"), {
    "Copper Beck": {
      choice: "try once more",
      reason: "A little over half came again; four plots of four plants cannot tell that from enough.",
    },
    "Amber Holm": {
      choice: "drop",
      reason: "Heavy in October and mostly gone by March; sown again for autumn only.",
    },
  });
  taken(
    closeTrial(onEvening(house, on("2026-04-18")), leeks.id, {
      reason: "Bed wanted for squash; everything assessed.",
      by: "Joss",
    }),
  );
  judge(house, leeks, on("2026-04-20"), leekVerdicts);

  const second = plan(house, on("2026-08-16"), mustardThisWinterPlan);
  walk(house, book, second, mustardThisWinterSeason, "mustard-this-winter", 5);
  plan(house, on("2026-11-20"), beansNextSpringPlan);
  loadWinterWeather(house);
}
