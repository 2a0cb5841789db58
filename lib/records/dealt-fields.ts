import { assessmentNames, designs, pathSides } from "@/lib/words/trial";
import { day, needed, whole, words } from "./fields";

const millimetres = { ...needed, minimum: 0 };

/** How a trial was dealt and until when it is thought: told alike by a trial's own table and by the garden's. */
export const dealtFields = [
  words("design", "How plots were dealt", { ...needed, enum: designs, miappe: "expeDesignDesc" }),
  whole("seed", "The number that the deal was made from", { ...needed, minimum: 0 }),
  whole("blocks", "How many blocks", { ...needed, minimum: 1 }),
  whole("plants_per_plot", "Plants in a plot", { ...needed, minimum: 1 }),
  whole("between_plants_mm", "Between plants in a row", millimetres),
  whole("between_rows_mm", "Between rows", millimetres),
  day("sown_on", "The day of sowing", needed),
  day("planted_on", "The day of setting out", { ...needed, miappe: "studyStartDate" }),
  words("deciding_assessment", "The assessment that decides", { ...needed, enum: assessmentNames }),
  words("picking_rule", "How it is picked"),
  day("clear_by", "The day by which the bed is wanted back"),
  day("fallback_on", "The day on which a failed trial is given up"),
] as const;

/** How it lies in its beds. */
export const groundFields = [
  whole("plots_per_block", "Plots in a small block", { minimum: 2 }),
  words("gradient", "Which way the ground changes"),
  whole("guard_rows", "Rows round the plots that are not counted", { minimum: 0 }),
  words("path_side", "Where the path runs as one looks along the bed", { enum: pathSides }),
] as const;
