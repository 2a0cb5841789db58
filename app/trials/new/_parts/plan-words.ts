import type { FieldWords } from "@/app/_ui/field-fault";
import { assessmentNames } from "@/lib/words/trial";
import { ruleWords } from "../../_parts/rule-words";

const words: Record<string, FieldWords> = {
  id: { label: "This plan" },
  question: { label: "The question", ask: "Enter the question that the trial is to answer" },
  purpose: { label: "What it is wanted for" },
  crop: { label: "Crop", ask: "Enter the crop, such as mustard greens" },
  entries: {
    label: "Varieties",
    always: "Enter at least two varieties: the check, and one to try against it",
  },
  "entries.0.variety": {
    label: "The check",
    ask: "Enter the check: a variety that you know here, for the others to be measured against",
  },
  "entries.1.variety": { label: "The tender check", ask: "Enter the name of the tender check" },
  entryList: { label: "The list", ask: "Enter or paste the list" },
  beds: { label: "Bed", ask: "Choose a bed, or enter a new one" },
  sownOn: {
    label: "Sowing date",
    ask: "Enter the sowing date, such as 14 Aug 2027",
  },
  plantedOn: { label: "Planting date", ask: "Enter the planting date, such as 18 Sep 2027" },
  design: { label: "How the plots are dealt", ask: "Choose how the plots are dealt" },
  seed: { label: "Seed of the deal", ask: "Enter a whole number to deal from" },
  blocks: { label: "Blocks", ask: "Enter how many blocks" },
  plantsPerPlot: { label: "Plants a plot", ask: "Enter how many plants go in a plot" },
  betweenPlantsMm: {
    label: "From plant to plant",
    ask: "Enter the distance from plant to plant, such as 25 cm",
  },
  betweenRowsMm: { label: "From row to row", ask: "Enter the distance from row to row, such as 30 cm" },
  levels: {
    label: "What is compared besides",
    always:
      "A split plot wants something to compare besides the varieties: two covers, two sowing dates, or a companion",
  },
  sowings: {
    label: "Sowing dates",
    always: "Compare covers, or sowing dates, or a companion: one of the three at once",
  },
  among: { label: "The companion that is compared" },
  plantsToHand: { label: "Plants to hand" },
  plotsPerBlock: { label: "Plots in a small block" },
  guardRows: { label: "Guard rows" },
  pathSide: { label: "Where the path runs" },
  gradient: { label: "Which way the ground changes" },
  assessments: { label: "Looks", always: "Enter a day for at least one look" },
  decidingAssessment: {
    label: "The look that the rule decides on",
    ask: "Choose the look that the rule decides on",
  },
  pickingRule: { label: "How it is picked" },
  clearBy: { label: "Bed wanted by" },
  fallbackOn: { label: "If it fails, something else goes in by" },
};

/** The fields of a companion: of one in every plot, or of the one that is compared. */
const companionWords = (
  list: string,
  [name, what, apart]: [string, string, string],
): Record<string, () => FieldWords> => ({
  [`${list}.name`]: () => ({ label: name, ask: `Enter what the ${what} is` }),
  [`${list}.habit`]: () => ({ label: `How the ${what} grows`, ask: `Choose how the ${what} grows` }),
  [`${list}.sownOn`]: () => ({
    label: `Sowing date of the ${what}`,
    ask: `Enter when the ${what} is sown, such as 1 Aug 2027`,
  }),
  [`${list}.betweenPlantsMm`]: () => ({
    label: apart,
    ask: "Enter the distance from companion to companion, such as 10 cm",
  }),
});

const rowWords: Record<string, (row: number) => FieldWords> = {
  "entries.variety": (row) => ({
    label: `Variety ${row - 1}`,
    ask: `Enter the name of variety ${row - 1}, or take its packet’s words away`,
  }),
  "entries.packetClaim": () => ({ label: "What the packet says" }),
  "beds.new.name": () => ({ label: "Name of the new bed", ask: "Enter what the new bed is called" }),
  "beds.new.widthMm": () => ({
    label: "Width of the bed",
    ask: "Enter the width of the bed, such as 120 cm",
  }),
  "beds.new.lengthMm": () => ({
    label: "Length of the bed",
    ask: "Enter the length of the bed, such as 4.8 m",
  }),
  "beds.new.potMm": () => ({
    label: "Size of one pot, along the row",
    ask: "Enter the size of one pot, such as 30 cm",
  }),
  "covers.kind": () => ({ label: "Kind of cover", ask: "Enter what kind of cover it is, such as fleece" }),
  "covers.name": () => ({ label: "Which cover" }),
  "covers.fromOn": () => ({ label: "Cover on from" }),
  "covers.untilOn": () => ({ label: "Cover off on" }),
  levels: () => ({ label: "What is compared" }),
  "levels.kind": (row) => ({
    label: `Cover ${row + 1}`,
    ask: "Enter what kind of cover it is, or: open ground",
  }),
  "levels.name": (row) => ({ label: `Cover ${row + 1}, which one` }),
  "levels.fromOn": (row) => ({ label: `Cover ${row + 1} goes on` }),
  "levels.untilOn": (row) => ({ label: `Cover ${row + 1} comes off` }),
  "sowings.sownOn": (row) => ({ label: `Sowing ${row + 2}` }),
  "inTheWay.fromMm": () => ({ label: "Where it begins" }),
  "inTheWay.toMm": () => ({
    label: "Where what is in the way ends",
    ask: "Enter where it ends, such as 2.4 m",
  }),
  "inTheWay.bed": () => ({ label: "The bed that it is in" }),
  ...companionWords("companions", ["Companion", "companion", "From companion to companion"]),
  ...companionWords("among", ["Compared companion", "compared companion", "Between compared companions"]),
  "assessments.dueOn": (row) => ({ label: `The day of “${assessmentNames[row]}”` }),
};

/** The form's words for a field, by the field's name. */
export function planWords(field: string): FieldWords {
  const own = words[field] ?? ruleWords(field);
  if (own) return own;
  const row = /^(.+)\.(\d+)\.(\w+)$/.exec(field);
  return rowWords[`${row?.[1]}.${row?.[3]}`]?.(Number(row?.[2])) ?? { label: "This plan" };
}
