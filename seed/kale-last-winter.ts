import type { Day } from "@/lib/words/day";
import type { TrialPlan } from "@/lib/words/trial-plan";
import type { Season } from "./season";

const on = (day: string) => day as Day;

export const kaleLastWinterPlan: TrialPlan = {
  question: "Which kale carries the household through the hungry gap in the open?",
  purpose: "the hungry gap",
  crop: "kale",
  entries: [
    { variety: "Greyfriar", packetClaim: "Stands anything.", role: "check" },
    { variety: "Longstone", packetClaim: "Hardy, heavy in spring.", role: "entry" },
    { variety: "Wick Hill", packetClaim: "Tender leaves all winter.", role: "entry" },
    { variety: "Ashgarth", packetClaim: null, role: "tender-check" },
  ],
  beds: [{ name: "Long border", widthMm: 1_200, lengthMm: 10_000 }],
  covers: [],
  design: "rcbd",
  seed: 20250806,
  blocks: 3,
  plantsPerPlot: 6,
  betweenPlantsMm: 400,
  betweenRowsMm: 400,
  sownOn: "2025-06-28",
  plantedOn: "2025-08-09",
  assessments: [
    { name: "took", dueOn: "2025-08-30" },
    { name: "midwinter", dueOn: "2026-01-31" },
    { name: "regrowth", dueOn: "2026-04-04" },
    { name: "end", dueOn: "2026-05-09" },
  ],
  decidingAssessment: "regrowth",
  pickingRule: "Leaves as long as a hand from below the crown; every plot on the same day.",
  clearBy: "2026-05-15",
  fallbackOn: null,
  rule: {
    survivalFloor: 0.6,
    yieldFloor: 0.7,
    sureness: 0.8,
    qualities: [{ trait: "taste", weight: "counts for" }],
  },
};

export const kaleLastWinterSeason: Season = {
  walks: [
    { day: on("2025-08-16"), by: "Joss" },
    { day: on("2025-08-23"), by: "Joss" },
    { day: on("2025-08-30"), by: "Ina" },
    { day: on("2025-09-20"), by: "Joss" },
    { day: on("2025-10-12"), by: "Joss" },
    { day: on("2025-11-08"), by: "Joss" },
    { day: on("2025-11-29"), by: "Ina" },
    { day: on("2025-12-15"), by: "Joss" },
    { day: on("2026-01-10"), by: "Joss" },
    { day: on("2026-01-31"), by: "Joss" },
    { day: on("2026-02-14"), by: "Ina" },
    { day: on("2026-02-28"), by: "Joss" },
    { day: on("2026-03-14"), by: "Joss" },
    { day: on("2026-04-04"), by: "Joss" },
    { day: on("2026-04-18"), by: "Joss" },
    { day: on("2026-05-09"), by: "Joss" },
  ],
  picks: [
    { day: on("2025-10-25"), season: 1 },
    { day: on("2025-12-13"), season: 0.6 },
    { day: on("2026-02-21"), season: 0.4 },
    { day: on("2026-03-28"), season: 0.9 },
    { day: on("2026-04-18"), season: 1.6 },
  ],
  part: "leaf",
  weighedBy: "Morwen",
  fillings: [{ code: "B3", day: on("2025-08-24"), plants: 4 }],
  notPicked: [],
  drowned: null,
  miscounted: null,
  unsettled: null,
  notTrue: null,
  doubtful: null,
  scores: [
    {
      day: on("2026-04-04"),
      trait: "vigour",
      of: { Greyfriar: 6, Longstone: 7, "Wick Hill": 5, Ashgarth: 3 },
    },
  ],
  stemsFrom: {
    Greyfriar: on("2026-05-05"),
    Longstone: on("2026-05-05"),
    "Wick Hill": on("2026-04-18"),
    Ashgarth: on("2026-04-18"),
  },
  endedOn: on("2026-05-09"),
  remarks: [],
};
