import type { TrialPlan } from "@/lib/words/trial-plan";

/** Planned, not yet in the ground: sown in pots in January 2027. */
export const beansNextSpringPlan: TrialPlan = {
  question: "Which broad bean, sown in January in pots, fills the most pods before the bed is wanted?",
  purpose: "first pods",
  crop: "broad beans",
  entries: [
    { variety: "Fellbeck", packetClaim: "Early and long-podded.", role: "check" },
    { variety: "Moorgill", packetClaim: "Short, for windy gardens.", role: "entry" },
    { variety: "Kirkrigg", packetClaim: null, role: "entry" },
  ],
  beds: [{ name: "East bed", widthMm: 1_200, lengthMm: 6_000 }],
  covers: [{ name: "Fine net", kind: "insect netting", fromOn: "2027-03-06", untilOn: "2027-04-17" }],
  design: "rcbd",
  seed: 20270306,
  blocks: 3,
  plantsPerPlot: 9,
  betweenPlantsMm: 200,
  betweenRowsMm: 400,
  sownOn: "2027-01-16",
  plantedOn: "2027-03-06",
  assessments: [
    { name: "took", dueOn: "2027-03-27" },
    { name: "end", dueOn: "2027-07-03" },
  ],
  decidingAssessment: "end",
  pickingRule: "Pods when the beans show through the skin; every plot on the same day.",
  clearBy: "2027-07-10",
  fallbackOn: "2027-04-03",
  rule: {
    survivalFloor: 0.8,
    yieldFloor: 0.9,
    sureness: 0.8,
    qualities: [{ trait: "taste", weight: "counts for" }],
  },
};
