import { inAHundred } from "@/lib/words/say-number";
import type { AssessmentName, Rule } from "@/lib/words/trial";

/** A percentage that does not break at the end of a line. */
function percent(share: number): string {
  return `${inAHundred(share)}\u00a0%`;
}

/** A decision rule as one sentence. */
export function sayRule(rule: Rule, decidingAssessment: AssessmentName): string {
  const floors: string[] = [];
  if (rule.survivalFloor !== null)
    floors.push(`at least ${percent(rule.survivalFloor)} of its plants stand at “${decidingAssessment}”`);
  if (rule.yieldFloor !== null) floors.push(`it yields at least ${percent(rule.yieldFloor)} of the check`);
  if (floors.length === 0) return "No floor is set: the figures are described and nothing is proposed.";
  return `A variety is grown again when we can be ${percent(rule.sureness)} sure that ${floors.join(", and that ")}.`;
}
