import type { TrialFindings } from "@/lib/analysis/finding";
import type { ScriptData } from "@/lib/analysis/script-data";
import { sayDay } from "@/lib/words/day";
import { rFigures } from "./r-figures";
import { rSurvival } from "./r-survival";
import { rYield } from "./r-yield";

interface ScriptRequest {
  question: string;
  findings: TrialFindings;
  data: ScriptData;
  rule: { survivalFloor: number | null; yieldFloor: number | null } | null;
  /** Code of a plot that was left out. */
  leavingOut: string | null;
}

type Cell = string | number | boolean | null;

/**
 * A script in R with the data in it that works the figures of the results out again, from the formulas and R's own
 * models, and sets them beside the screen's. Base R is enough but for what it says itself.
 */
export function rScript({ question, findings, data, rule, leavingOut }: ScriptRequest): string {
  const reference = findings.survival?.value.differences[0]?.reference ?? null;
  const isToCheck = findings.survival?.value.differences.every((one) => one.reference === reference);
  const yieldCheck = findings.yield && findings.yield.value.differences.length > 0 ? data.check : null;
  const level = (findings.survival ?? findings.yield)?.level ?? 0.95;
  const figures = rFigures(findings, data.from);
  return [
    ...header(question, findings, leavingOut),
    "",
    `LEVEL <- ${level}`,
    setting("design", data.design),
    setting("layout", data.layout),
    `varieties <- ${vector(data.varieties)}`,
    setting("check", isToCheck && reference === data.check ? data.check : null),
    setting("yield_check", yieldCheck),
    setting("look_see_check", data.lookSeeCheck),
    setting("variety_on_main_plots", data.isVarietyOnMainPlots),
    setting("survival_floor", rule?.survivalFloor ?? null),
    setting("yield_floor", findings.yield?.value.per === "plant" ? (rule?.yieldFloor ?? null) : null),
    `yield_layout <- ${data.yieldLayout.length === 0 ? "character()" : vector(data.yieldLayout)}`,
    "",
    "# Every plot as it was dealt, with its yield on the scale on show.",
    frame("plots", {
      plot: data.plots.map((one) => one.plot),
      variety: data.plots.map((one) => one.variety),
      block: data.plots.map((one) => one.block),
      wholeBlock: data.plots.map((one) => one.wholeBlock),
      replicate: data.plots.map((one) => one.replicate),
      mainPlot: data.plots.map((one) => one.mainPlot),
      treatment: data.plots.map((one) => one.treatment),
      row: data.plots.map((one) => one.row),
      column: data.plots.map((one) => one.column),
      yield: data.plots.map((one) => one.yield),
    }),
    "",
    "# Plants a plot: set out, taken out by a person, and standing; in two steps and over both.",
    frame("counts", {
      step: data.steps.flatMap((step) => step.counts.map(() => step.step)),
      plot: data.steps.flatMap((step) => step.counts.map((one) => one.plot)),
      setOut: data.steps.flatMap((step) => step.counts.map((one) => one.setOut)),
      takenOut: data.steps.flatMap((step) => step.counts.map((one) => one.takenOut)),
      standing: data.steps.flatMap((step) => step.counts.map((one) => one.standing)),
    }),
    "",
    "# The same plants by the day, since the step's beginning, on which they were seen lost, taken out, or last stood.",
    frame("followed", {
      step: data.steps.flatMap((step) => step.followed.map(() => step.step)),
      plot: data.steps.flatMap((step) => step.followed.map((one) => one.plot)),
      day: data.steps.flatMap((step) => step.followed.map((one) => one.day)),
      plants: data.steps.flatMap((step) => step.followed.map((one) => one.plants)),
      lost: data.steps.flatMap((step) => step.followed.map((one) => one.cause !== null)),
      cause: data.steps.flatMap((step) => step.followed.map((one) => one.cause)),
    }),
    "",
    "# How many days each step lasts, and the days since the first planting on which somebody looked.",
    `until <- list(${data.steps.map((step) => `${step.step} = ${step.until}`).join(", ")})`,
    `looks <- c(${data.looks.join(", ")})`,
    "",
    "# The figures on the screen, to be compared at the end.",
    frame("screen", {
      name: figures.map(([name]) => name),
      screen: figures.map(([, value]) => value),
    }),
    helpers,
    ...(findings.survival ? [rSurvival] : []),
    ...(findings.yield ? [rYield] : []),
    ending,
  ].join("\n");
}

function header(question: string, findings: TrialFindings, leavingOut: string | null): string[] {
  const parts = [findings.survival, findings.losses, findings.standing, findings.yield];
  const sources = [...new Set(parts.flatMap((part) => part?.method.sources ?? []))];
  return [
    `# ${oneLine(question)}`,
    `# ${findings.at ? `As of ${sayDay(findings.at, true)}. ` : ""}${findings.trial.plots} plots, ${findings.trial.design}.`,
    ...(leavingOut === null ? [] : [`# Plot ${oneLine(leavingOut)} was left out on purpose.`]),
    "#",
    "# Run with: Rscript this-file.R",
    "# It prints a table with a row a figure: its name, what R makes of it, and what the screen said.",
    "# Base R 4 is enough for most; where lme4, pbkrtest or mvtnorm would be needed it says so and goes on.",
    "# Not in it: p by dealing the layout again, scores, counts, and the methods that only stand beside.",
    "#",
    ...(sources.length > 0 ? ["# Sources:", ...sources.map((source) => `#   ${oneLine(source)}`)] : []),
  ];
}

/** Nothing that somebody typed may leave its comment. */
function oneLine(text: string): string {
  return text.replace(/[\r\n\u2028\u2029\u0085]+/g, " ");
}

function literal(value: Cell): string {
  if (value === null) return "NA";
  if (typeof value === "boolean") return value ? "TRUE" : "FALSE";
  return typeof value === "number" ? String(value) : JSON.stringify(value);
}

function setting(name: string, value: Cell): string {
  return `${name} <- ${literal(value)}`;
}

const widthOfLine = 110;

function vector(cells: Cell[]): string {
  const lines: string[] = [""];
  for (const cell of cells) {
    const word = `${literal(cell)}, `;
    if (lines[lines.length - 1].length + word.length > widthOfLine) lines.push("");
    lines[lines.length - 1] += word;
  }
  return `c(${lines.join("\n    ").replace(/, $/, "")})`;
}

function frame(name: string, columns: Record<string, Cell[]>): string {
  const told = Object.entries(columns).map(([column, cells]) => `  ${column} = ${vector(cells)}`);
  return `${name} <- data.frame(stringsAsFactors = FALSE, check.names = FALSE,\n${told.join(",\n")})`;
}

const helpers = `
figures <- numeric()
tell <- function(value, ...) figures[[paste(..., sep = "|")]] <<- if (is.finite(value)) value else NA_real_
left_out <- character()
cannot <- function(what, why) left_out <<- unique(c(left_out, sprintf("%s: %s", what, why)))
`;

const ending = `
# ---- What R makes of it, beside the screen ---------------------------------------------------------------------------
screen$r <- as.numeric(figures[screen$name])
write.csv(data.frame(name = screen$name, r = format(screen$r, digits = 15, trim = TRUE), screen = format(screen$screen, digits = 15, trim = TRUE)),
  quote = 1, row.names = FALSE)
gap <- abs(screen$r - screen$screen) / pmax(abs(screen$screen), 1e-3)
cat(sprintf("# %d figures; the largest gap is %.1e of the figure\\n", sum(!is.na(gap)), if (all(is.na(gap))) 0 else max(gap, na.rm = TRUE)))
if (length(left_out) > 0) cat(sprintf("# Left out: %s\\n", left_out), sep = "")
`;
