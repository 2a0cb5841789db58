import type { AnovaRow, Difference, Finding, TrialFindings, YieldAnalysis } from "@/lib/analysis/finding";
import { sayDay } from "@/lib/words/day";
import { sayDecimal, sayP, sayPIs, sayRounded } from "@/lib/words/say-number";
import { anovaRows } from "./anova-rows";
import { headline } from "./headline";
import { allCautions } from "./json-report";
import { sentenceForDifference } from "./sentence-for-difference";
import { sentenceForLosses } from "./sentence-for-losses";
import { sentenceForVariety } from "./sentence-for-variety";
import { sentenceForYield, sentenceForYieldDifference } from "./sentence-for-yield";

/** The whole result as text to print or to paste into a message: sentences first, then the working's tables. */
export function plainTextReport(findings: TrialFindings, unknownColumns: string[] = []): string {
  const parts = [
    [headline(findings)],
    survivalPart(findings),
    lossPart(findings),
    yieldPart(findings.yield),
    cautionPart(findings),
    unknownColumns.length > 0 ? [`Columns kept as notes: ${unknownColumns.join(", ")}.`] : [],
  ];
  return parts
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join("\n"))
    .join("\n\n");
}

function survivalPart({ took, wintered, survival }: TrialFindings): string[] {
  if (!survival) return [];
  const day = survival.asOf ? ` on ${sayDay(survival.asOf, true)}` : "";
  const steps = [took, wintered].filter((step) => step !== null);
  return [
    `Standing${day} (${survival.plants} plants in ${survival.plots} plots)`,
    ...survival.value.varieties.map((variety) => sentenceForVariety(variety)),
    ...steps.flatMap((step) =>
      step.value.varieties.map((variety) => `  ${sentenceForVariety(variety, step.value.step)}`),
    ),
    "",
    ...toldPairs(survival.value.differences).map((difference) => {
      const p =
        difference.p === null ? "" : ` The luck of the draw does as well with ${sayPIs(difference.p)}.`;
      return `${sentenceForDifference(difference)}${p}`;
    }),
  ];
}

/** With more pairs than can be read only the clear ones are told one by one. */
const mostPairsTold = 20;

function toldPairs(differences: Difference[]): Difference[] {
  if (differences.length <= mostPairsTold) return differences;
  return differences.filter(({ low, high }) => low !== null && high !== null && (low > 0 || high < 0));
}

function lossPart({ losses, survival }: TrialFindings): string[] {
  if (!losses || !survival) return [];
  return survival.value.varieties.map((variety) => sentenceForLosses(variety.variety, losses.value));
}

function yieldPart(finding: Finding<YieldAnalysis> | null): string[] {
  if (!finding) return [];
  const { per, unit, varieties, differences, anova, cv, model } = finding.value;
  return [
    `Yield in ${finding.scale} (${finding.plots} plots)`,
    ...varieties.map((mean) => sentenceForYield(mean, per, unit)),
    ...(differences.length > 0 ? [""] : []),
    ...differences.map((difference) => sentenceForYieldDifference(difference, unit)),
    "",
    `Analysis of variance, ${model}${cv === null ? "" : `; coefficient of variation ${sayDecimal(cv, 1)} %`}`,
    ...anovaLines(anova),
    "",
    ...meanLines(finding.value),
    ...pairLines(finding.value),
  ];
}

/** Columns set in a fixed width, the first to the left and the others to the right. */
export function alignedRows(rows: string[][]): string[] {
  const widths = rows[0].map((_, column) => Math.max(...rows.map((row) => row[column].length)));
  return rows.map((row) =>
    row
      .map((cell, column) => (column === 0 ? cell.padEnd(widths[column]) : cell.padStart(widths[column])))
      .join("  ")
      .trimEnd(),
  );
}

function anovaLines(anova: AnovaRow[]): string[] {
  const { headings, rows } = anovaRows(anova);
  return alignedRows([headings, ...rows]);
}

function meanLines({ varieties, unit }: YieldAnalysis): string[] {
  const say = (value: number | null, se: number | null) => (value === null ? "–" : sayRounded(value, se));
  return alignedRows([
    ["variety", "plots", `mean (${unit})`, "SE", "df", "from", "to"],
    ...varieties.map((mean) => [
      mean.variety,
      String(mean.plots),
      say(mean.mean, mean.se),
      say(mean.se, mean.se),
      mean.df === null ? "–" : String(Number(mean.df.toFixed(1))),
      say(mean.low, mean.se),
      say(mean.high, mean.se),
    ]),
  ]);
}

/** Differences to the check with limits for all of them at once; without a check all pairs, where they are few. */
function pairLines({ differences, pairs, unit }: YieldAnalysis): string[] {
  const told =
    differences.length > 0
      ? differences.map((one) => ({ ...one, name: `${one.variety} − ${one.reference}` }))
      : pairs.map((one) => ({ ...one, name: `${one.a} − ${one.b}` }));
  if (told.length === 0 || told.length > mostPairsTold) return [];
  const say = (value: number | null, se: number | null) => (value === null ? "–" : sayRounded(value, se));
  return [
    "",
    ...alignedRows([
      ["difference", unit, "SE", "from", "to", "p"],
      ...told.map((one) => [
        one.name,
        say(one.estimate, one.se),
        say(one.se, one.se),
        say(one.low, one.se),
        say(one.high, one.se),
        one.p === null ? "–" : sayP(one.p),
      ]),
    ]),
    differences.length > 0
      ? "Limits and p are Dunnett's, for all comparisons with the check at once."
      : "Limits and p are Tukey and Kramer's, for all pairs at once.",
  ];
}

function cautionPart(findings: TrialFindings): string[] {
  const cautions = allCautions(findings);
  if (cautions.length === 0) return [];
  return ["Beware", ...cautions.map((caution) => `- ${caution.text}`)];
}
