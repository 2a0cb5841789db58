import type { Day } from "@/lib/words/day";
import type { TrialPlan } from "@/lib/words/trial-plan";
import { chardLastWinterPlan, chardLastWinterSeason } from "./chard-last-winter";
import type { Season } from "./season";

const on = (day: string) => day as Day;

/** The same four a winter earlier, when the bed was not yet known to change in two ways. */
export const chardWinterBeforePlan: TrialPlan = {
  ...chardLastWinterPlan,
  question: "Which chard is worth leaving out all winter?",
  design: "rcbd",
  seed: 20240817,
  blocks: 3,
  plantsPerPlot: 6,
  betweenPlantsMm: 250,
  betweenRowsMm: 250,
  sownOn: "2024-07-06",
  plantedOn: "2024-08-17",
  assessments: [
    { name: "took", dueOn: "2024-09-07" },
    { name: "midwinter", dueOn: "2025-02-01" },
    { name: "regrowth", dueOn: "2025-04-05" },
  ],
  clearBy: "2025-05-03",
};

export const chardWinterBeforeSeason: Season = {
  ...chardLastWinterSeason,
  walks: [
    { day: on("2024-08-24"), by: "Ina" },
    { day: on("2024-09-07"), by: "Ina" },
    { day: on("2024-10-19"), by: "Ina" },
    { day: on("2024-12-07"), by: "Joss" },
    { day: on("2025-02-01"), by: "Ina" },
    { day: on("2025-03-08"), by: "Ina" },
    { day: on("2025-04-05"), by: "Ina" },
  ],
  picks: [
    { day: on("2024-10-12"), season: 1 },
    { day: on("2024-11-30"), season: 0.5 },
    { day: on("2025-04-12"), season: 1.1 },
  ],
  stemsFrom: {},
  endedOn: on("2025-04-19"),
};
