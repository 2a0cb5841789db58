import type { TrialFindings } from "@/lib/analysis/finding";
import { sayDay } from "@/lib/words/day";
import type { VerdictChoice } from "@/lib/words/trial";
import { answerWords } from "./answer-words";
import { allCautions } from "./json-report";
import { sentenceForVerdicts } from "./sentence-for-season";
import { sentenceForVariety } from "./sentence-for-variety";
import { sentenceForYieldDifference } from "./sentence-for-yield";

/** More cautions than this are not read in a message. */
const mostCautions = 3;

/** A trial in a message: the question, the answer, a line a variety, the verdicts, what to beware of. */
export function summaryText(
  trial: { question: string; garden: string | null; crop: string },
  findings: TrialFindings,
  verdicts: readonly { variety: string; choice: VerdictChoice }[],
): string {
  const { survival, yield: harvest, at } = findings;
  const cautions = allCautions(findings)
    .slice(0, mostCautions)
    .map((caution) => caution.text);
  const decided = sentenceForVerdicts(verdicts);
  const parts = [
    [trial.question],
    [`${[trial.garden, trial.crop].filter(Boolean).join(", ")}${at ? `, as of ${sayDay(at, true)}` : ""}.`],
    [answerWords(findings)],
    survival?.value.varieties.map((variety) => `- ${sentenceForVariety(variety)}`) ?? [],
    harvest?.value.differences.map(
      (difference) => `- ${sentenceForYieldDifference(difference, harvest.value.unit)}`,
    ) ?? [],
    decided ? [decided] : [],
    cautions.length > 0 ? [`Beware: ${cautions.join(" ")}`] : [],
  ];
  return parts
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join("\n"))
    .join("\n\n");
}
