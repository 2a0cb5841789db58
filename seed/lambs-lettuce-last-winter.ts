import type { Day } from "@/lib/words/day";
import type { TrialPlan } from "@/lib/words/trial-plan";
import type { Season } from "./season";

const on = (day: string) => day as Day;

/** What the fleece is worth, and whether it is worth the same to every variety. */
export const lambsLettuceLastWinterPlan: TrialPlan = {
  question: "Does lamb's lettuce need the fleece here, and which kind stands without it?",
  purpose: "winter salad",
  crop: "lamb's lettuce",
  entries: [
    { variety: "Birk Nook", packetClaim: "Small, round and hardy.", role: "check" },
    { variety: "Sallow Gate", packetClaim: "Large leaves; for frames and tunnels.", role: "entry" },
    { variety: "Cold Keld", packetClaim: "Stands any frost.", role: "entry" },
  ],
  beds: [
    { name: "North bed", widthMm: 1_200, lengthMm: 6_000 },
    { name: "Wall bed", widthMm: 1_200, lengthMm: 6_000 },
  ],
  covers: [],
  design: "split-plot",
  mainPlots: {
    factor: "cover",
    levels: [
      { cover: null, fromOn: null, untilOn: null },
      { cover: { name: "White fleece", kind: "fleece" }, fromOn: "2025-11-15", untilOn: "2026-03-21" },
    ],
  },
  seed: 20250927,
  blocks: 4,
  plantsPerPlot: 12,
  betweenPlantsMm: 120,
  betweenRowsMm: 150,
  sownOn: "2025-08-25",
  plantedOn: "2025-09-27",
  assessments: [
    { name: "took", dueOn: "2025-10-18" },
    { name: "midwinter", dueOn: "2026-01-31" },
    { name: "regrowth", dueOn: "2026-03-14" },
  ],
  decidingAssessment: "regrowth",
  pickingRule: "The largest leaves of every plant, never the heart; every plot on the same day.",
  clearBy: "2026-04-11",
  fallbackOn: null,
  rule: {
    survivalFloor: 0.7,
    yieldFloor: null,
    sureness: 0.8,
    qualities: [],
  },
};

export const lambsLettuceLastWinterSeason: Season = {
  walks: [
    { day: on("2025-10-04"), by: "Morwen" },
    { day: on("2025-10-11"), by: "Morwen" },
    { day: on("2025-10-18"), by: "Ina" },
    { day: on("2025-11-08"), by: "Morwen" },
    { day: on("2025-12-06"), by: "Morwen" },
    { day: on("2026-01-10"), by: "Morwen" },
    { day: on("2026-01-31"), by: "Ina" },
    { day: on("2026-02-21"), by: "Morwen" },
    { day: on("2026-03-14"), by: "Morwen" },
    { day: on("2026-04-04"), by: "Morwen" },
  ],
  picks: [
    { day: on("2025-12-13"), season: 0.7 },
    { day: on("2026-02-28"), season: 0.6 },
    { day: on("2026-03-21"), season: 1.4 },
  ],
  part: "leaf",
  weighedBy: "Morwen",
  fillings: [],
  notPicked: [],
  drowned: null,
  miscounted: null,
  unsettled: null,
  notTrue: null,
  doubtful: null,
  scores: [],
  stemsFrom: {},
  endedOn: on("2026-04-04"),
  remarks: [
    {
      bed: "Wall bed",
      day: on("2026-01-10"),
      by: "Morwen",
      note: "Fleece frozen to the leaves in places; left until it thawed.",
    },
  ],
};
