import type { Day } from "@/lib/words/day";
import type { TrialPlan } from "@/lib/words/trial-plan";
import { mustardLastWinterPlan } from "./mustard-last-winter";
import type { Season } from "./season";

const on = (day: string) => day as Day;

/** The same five again: a verdict rests on two winters. */
export const mustardThisWinterPlan: TrialPlan = {
  ...mustardLastWinterPlan,
  question: "Do last winter's mustard greens stand a second winter, on the south side?",
  beds: [
    { name: "South bed", widthMm: 1_200, lengthMm: 6_000 },
    { name: "Frame bed", widthMm: 1_200, lengthMm: 6_000 },
  ],
  covers: [
    { name: "Short tunnel", kind: "low tunnel", fromOn: "2026-11-01", untilOn: null },
    { name: "Coarse net", kind: "insect netting", fromOn: "2026-09-26", untilOn: null },
  ],
  seed: 20260926,
  sownOn: "2026-08-24",
  plantedOn: "2026-09-26",
  assessments: [
    { name: "took", dueOn: "2026-10-17" },
    { name: "before hard cold", dueOn: "2026-11-29" },
    { name: "midwinter", dueOn: "2027-01-30" },
    { name: "regrowth", dueOn: "2027-03-27" },
    { name: "end", dueOn: "2027-04-24" },
  ],
  clearBy: "2027-05-01",
};

/** Walked up to the Sunday before 25 November 2026. */
export const mustardThisWinterSeason: Season = {
  walks: [
    { day: on("2026-10-03"), by: "Ina" },
    { day: on("2026-10-10"), by: "Joss" },
    { day: on("2026-10-17"), by: "Ina" },
    { day: on("2026-10-25"), by: "Ina" },
    { day: on("2026-11-01"), by: "Joss" },
    { day: on("2026-11-08"), by: "Ina" },
    {
      day: on("2026-11-15"),
      by: "Ina",
      couldNotLook: { bed: "Frame bed", why: "tunnel frozen shut" },
    },
    { day: on("2026-11-22"), by: "Ina" },
  ],
  picks: [{ day: on("2026-11-14"), season: 1 }],
  part: "leaf",
  weighedBy: "Morwen",
  fillings: [
    { code: "C4", day: on("2026-10-10"), plants: 1 },
    { code: "C3", day: on("2026-10-25"), plants: 1 },
  ],
  notPicked: [],
  drowned: null,
  miscounted: null,
  unsettled: { code: "A5", day: on("2026-11-22") },
  notTrue: null,
  doubtful: null,
  scores: [],
  stemsFrom: {},
  endedOn: null,
  remarks: [
    {
      bed: "South bed",
      day: on("2026-11-20"),
      by: "Morwen",
      note: "A handful from all over the South bed for the soup, about 300 g, not weighed by plot.",
    },
  ],
};
