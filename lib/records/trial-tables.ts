import { assessmentNames } from "@/lib/words/trial";
import type { PackageTable } from "./data-package";
import { dealtFields, groundFields } from "./dealt-fields";
import { day, figure, key, list, moment, needed, whole, words } from "./fields";
import { observationFields } from "./write-observations";
import { plotFields } from "./write-plots";

const ofPlot = { field: "plot", table: "plots", to: "plot" };
const ofVariety = { field: "variety", table: "entries", to: "variety" };
const millimetres = { ...needed, minimum: 0 };

/**
 * The tables of one trial: plots and observations in the open formats, which are read back as a trial, and what else was
 * planned, changed and decided, told by names instead of ids.
 */
export const trialTables = [
  { name: "plots", title: "Plots", fields: plotFields, primaryKey: ["plot"], refers: [ofVariety] },
  {
    name: "observations",
    title: "Observations",
    fields: observationFields,
    primaryKey: ["id"],
    refers: [ofPlot, { field: "replaces", to: "id" }],
  },
  {
    name: "trial",
    title: "The trial as it was planned",
    primaryKey: ["id"],
    refers: [],
    fields: [
      words("id", "The trial's own id", key),
      words("question", "What it asks", { ...needed, miappe: "studyTitle" }),
      words("purpose", "What the harvest is wanted for"),
      words("crop", "The crop", needed),
      ...dealtFields,
      day("closed_on", "The day on which it was closed"),
      ...groundFields,
    ],
  },
  {
    name: "entries",
    title: "What is compared",
    primaryKey: ["variety"],
    refers: [],
    fields: [
      words("variety", "The variety", { ...key, miappe: "biologicalMaterialId" }),
      words("role", "An entry, the check, or the tender check", needed),
      words("packet_claim", "What its packet promises"),
    ],
  },
  {
    name: "beds",
    title: "Beds, in the order in which the trial takes them",
    primaryKey: ["bed"],
    refers: [],
    fields: [
      words("bed", "What it is called", key),
      whole("width_mm", "Its width", millimetres),
      whole("length_mm", "Its length", millimetres),
      whole("pot_mm", "The size of a pot where the bed is a row of pots", { minimum: 50 }),
    ],
  },
  {
    name: "places",
    title: "Where each plot lies in its bed",
    primaryKey: ["plot"],
    refers: [ofPlot, { field: "bed", table: "beds", to: "bed" }],
    fields: [
      words("plot", "The plot", key),
      words("bed", "The bed", needed),
      whole("x_mm", "From the bed's left side", millimetres),
      whole("y_mm", "From the bed's path end", millimetres),
      whole("width_mm", "Its width", millimetres),
      whole("length_mm", "Its length", millimetres),
      whole("plant_rows", "In how many rows its plants stand", { ...needed, minimum: 1 }),
      words("under", "What its main plot was dealt"),
    ],
  },
  {
    name: "taken-up",
    title: "What stands in the way in a bed",
    primaryKey: ["bed", "from_mm"],
    refers: [{ field: "bed", table: "beds", to: "bed" }],
    fields: [
      words("bed", "The bed", needed),
      whole("from_mm", "Where it begins, from the path end", millimetres),
      whole("to_mm", "Where it ends", millimetres),
    ],
  },
  {
    name: "covers",
    title: "What stood over the whole trial, outermost first",
    refers: [],
    fields: [
      words("cover", "What it is called", needed),
      words("kind", "What kind it is", needed),
      day("from_on", "From this day on", needed),
      day("until_on", "Until this day; blank is still there"),
    ],
  },
  {
    name: "main-levels",
    title: "What whole main plots were dealt",
    primaryKey: ["level"],
    refers: [],
    fields: [
      words("level", "As it is called on the layout", key),
      words("factor", "A cover, a sowing date or a companion", { ...needed, miappe: "expeFactorType" }),
      words("cover", "The cover; blank is open ground"),
      words("kind", "What kind of cover"),
      day("from_on", "From this day on"),
      day("until_on", "Until this day"),
      day("sown_on", "The day of sowing"),
      words("companion", "The companion between the plants; blank is none"),
    ],
  },
  {
    name: "companions",
    title: "Crops between the plants, in every plot or where main plots were dealt them",
    primaryKey: ["name"],
    refers: [],
    fields: [
      words("name", "What it is", key),
      words("habit", "How it grows", needed),
      day("sown_on", "The day of sowing", needed),
      whole("between_plants_mm", "Between its plants", millimetres),
    ],
  },
  {
    name: "assessments",
    title: "Days of assessment",
    primaryKey: ["name"],
    refers: [],
    fields: [
      words("name", "Which assessment", { ...key, enum: assessmentNames }),
      day("due_on", "The day", needed),
    ],
  },
  {
    name: "rules",
    title: "The decision rule, every version",
    primaryKey: ["version"],
    refers: [],
    fields: [
      whole("version", "1 is the rule set with the plan", { ...key, minimum: 1 }),
      figure("survival_floor", "The share that must stand", { minimum: 0, maximum: 1 }),
      figure("yield_floor", "The yield wanted, as a share of the check's", { minimum: 0 }),
      figure("sureness", "How sure to be", { ...needed, minimum: 0.5, maximum: 0.99 }),
      list("qualities", "Traits that count, each with its weight", needed),
      words("reason", "Why it was changed"),
      moment("set_at", "When it was set", needed),
    ],
  },
  {
    name: "amendments",
    title: "What was changed after the trial began",
    refers: [ofPlot],
    fields: [
      words("plot", "The plot it is about; blank is the whole trial"),
      words("kind", "What was changed", { ...needed, miappe: "eventType" }),
      day("from_on", "From which day on", { ...needed, miappe: "eventDate" }),
      words("planted_variety", "What was planted instead of what was dealt"),
      words("reason", "Why", needed),
      words("by", "Who changed it"),
      moment("made_at", "When it was written down", needed),
    ],
  },
  {
    name: "verdicts",
    title: "Verdicts; the last on a variety holds",
    refers: [ofVariety],
    fields: [
      words("variety", "What was judged", needed),
      words("purpose", "What it is wanted for"),
      words("proposal", "What the figures proposed"),
      words("choice", "What the person chose", needed),
      words("reason", "Why", needed),
      words("by", "Who"),
      day("decided_on", "The day", needed),
      moment("decided_at", "When it was written down", needed),
    ],
  },
] as const satisfies readonly PackageTable[];

/** `rules` for `rules.csv`. */
export type TrialTableName = (typeof trialTables)[number]["name"];
