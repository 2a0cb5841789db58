import type { Day } from "@/lib/words/day";
import type { TrialPlan } from "@/lib/words/trial-plan";
import type { Season } from "./season";

const on = (day: string) => day as Day;

/** Swapped seed: many sorts once each, and the check in every stretch of the bed. */
export const leeksLastWinterPlan: TrialPlan = {
  question: "Which of the swapped leeks are worth a proper trial?",
  purpose: "green stems in February",
  crop: "leeks",
  entries: [
    { variety: "Grey Scar", packetClaim: "Blue-leaved, for deep winter.", role: "check" },
    { variety: "Stone Rigg", packetClaim: null, role: "entry" },
    { variety: "Long Mire", packetClaim: "Long and pale; use before Christmas.", role: "entry" },
    { variety: "Hag Dyke", packetClaim: null, role: "entry" },
    { variety: "Oxen Side", packetClaim: "An old sort of the dale.", role: "entry" },
    { variety: "Far Moss", packetClaim: null, role: "entry" },
    { variety: "Rook Howe", packetClaim: "Will not run to flower before May.", role: "entry" },
    { variety: "Whin Bank", packetClaim: null, role: "entry" },
    { variety: "Low Garth", packetClaim: null, role: "entry" },
    { variety: "Pale Gill", packetClaim: null, role: "entry" },
  ],
  beds: [{ name: "Pear border", widthMm: 1_200, lengthMm: 8_000 }],
  covers: [],
  design: "augmented",
  seed: 20250712,
  blocks: 3,
  plantsPerPlot: 10,
  betweenPlantsMm: 150,
  betweenRowsMm: 300,
  sownOn: "2025-04-12",
  plantedOn: "2025-07-12",
  assessments: [
    { name: "took", dueOn: "2025-08-02" },
    { name: "midwinter", dueOn: "2026-01-31" },
    { name: "regrowth", dueOn: "2026-03-28" },
  ],
  decidingAssessment: "regrowth",
  pickingRule: "Not weighed: this bed only tells dead from alive.",
  clearBy: "2026-04-25",
  fallbackOn: null,
  rule: {
    survivalFloor: 0.6,
    yieldFloor: null,
    sureness: 0.8,
    qualities: [],
  },
};

export const leeksLastWinterSeason: Season = {
  walks: [
    { day: on("2025-07-19"), by: "Joss" },
    { day: on("2025-08-02"), by: "Joss" },
    { day: on("2025-09-20"), by: "Joss" },
    { day: on("2025-11-08"), by: "Joss" },
    { day: on("2025-12-15"), by: "Joss" },
    { day: on("2026-01-31"), by: "Joss" },
    { day: on("2026-02-28"), by: "Ina" },
    { day: on("2026-03-28"), by: "Joss" },
  ],
  picks: [],
  part: "green stem",
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
  endedOn: on("2026-04-18"),
  remarks: [],
};
