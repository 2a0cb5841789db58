import { type Factor, factor } from "@/lib/statistics/factor";
import type { AnalysedDesign, RecordPlot } from "./trial-record";

/** A plot that enters the model, with its yield on the scale asked for. */
export interface ModelPlot {
  plot: RecordPlot;
  response: number;
}

/** The fixed terms of a design whose plots have one error, in the order in which they are fitted: varieties last. */
export interface FixedModel {
  words: string;
  variables: Factor[];
  terms: string[][];
}

/** The linear model of a completely randomised trial, blocks, or a Latin square; the other designs have two errors. */
export function fixedModel(plots: ModelPlot[], design: AnalysedDesign, varieties: string[]): FixedModel {
  const variety = factor(
    "variety",
    plots.map((one) => one.plot.variety),
    varieties,
  );
  const named = (name: string, of: (plot: RecordPlot) => string | number | null) =>
    factor(
      name,
      plots.map((one) => String(of(one.plot))),
    );
  switch (design) {
    case "latin":
      return {
        words: "row + column + variety",
        variables: [named("row", (plot) => plot.row), named("column", (plot) => plot.column), variety],
        terms: [["row"], ["column"], ["variety"]],
      };
    case "crd":
      return { words: "variety", variables: [variety], terms: [["variety"]] };
    default:
      return {
        words: "block + variety",
        variables: [named("block", (plot) => plot.block), variety],
        terms: [["block"], ["variety"]],
      };
  }
}
