import type { TrialFindings } from "@/lib/analysis/finding";
import { headline } from "./headline";
import { sentenceForTreatments } from "./sentence-for-main";

/** More differences of covers or sowing dates than this are for the figure. */
const mostTreatments = 3;

/** The trial's answer where there is one place for it: on the varieties, and on the covers or sowing dates dealt to main plots. */
export function answerWords(findings: TrialFindings): string {
  const treatments = findings.survival?.value.main?.differences ?? [];
  return [headline(findings), ...treatments.slice(0, mostTreatments).map(sentenceForTreatments)].join(" ");
}
