import { parseArgs } from "node:util";
import type { YieldPer } from "@/lib/analysis/finding";
import { type AnalysedDesign, analysedDesigns } from "@/lib/analysis/trial-record";
import { type Day, parseDay } from "@/lib/words/day";
import { type Fault, type Outcome, refusal, success } from "@/lib/words/fault";

export interface AnalyseArguments {
  plotsFile: string;
  observationsFile: string;
  check: string | null;
  at: Day | null;
  design: AnalysedDesign | null;
  /** Null: per plant set out, or per plot where the files do not say how many plants. */
  yieldPer: YieldPer | null;
  json: boolean;
}

export const usage = `analyse plots.csv observations.csv [--check NAME] [--at DATE]
  [--design ${analysedDesigns.join("|")}]
  [--yield-per plant|m2|plot] [--json]`;

const perChoices = ["plant", "m2", "plot"] as const;

/** Reads the command's arguments: all of them, or everything that is wrong with them. */
export function analyseArguments(given: string[]): Outcome<AnalyseArguments> {
  const faults: Fault[] = [];
  let parsed: ReturnType<typeof parse>;
  try {
    parsed = parse(given);
  } catch (error) {
    const message = error instanceof Error ? error.message.split("\n")[0] : String(error);
    return refusal([{ place: "arguments", found: message, wanted: usage }]);
  }
  const { values, positionals } = parsed;
  if (positionals.length !== 2)
    faults.push({
      place: "arguments",
      found: positionals.length === 0 ? "no files" : positionals.join(" "),
      wanted: `two files: ${usage}`,
    });
  const oneOf = <Word extends string>(option: string, value: string | undefined, words: readonly Word[]) => {
    if (value === undefined) return null;
    const word = words.find((one) => one === value);
    if (word === undefined) faults.push({ place: option, found: value, wanted: words.join(" or ") });
    return word ?? null;
  };
  const design = oneOf("--design", values.design, analysedDesigns);
  const yieldPer = oneOf("--yield-per", values["yield-per"], perChoices);
  let at: Day | null = null;
  if (values.at !== undefined) {
    const day = parseDay(values.at, "--at");
    if (day.ok) at = day.value;
    else faults.push(...day.faults);
  }
  if (faults.length > 0) return refusal(faults);
  return success({
    plotsFile: positionals[0],
    observationsFile: positionals[1],
    check: values.check ?? null,
    at,
    design,
    yieldPer,
    json: values.json ?? false,
  });
}

function parse(given: string[]) {
  return parseArgs({
    args: given,
    allowPositionals: true,
    options: {
      check: { type: "string" },
      at: { type: "string" },
      design: { type: "string" },
      "yield-per": { type: "string" },
      json: { type: "boolean" },
    },
  });
}
