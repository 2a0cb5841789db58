import type { FieldWords } from "@/app/_ui/field-fault";

const words: Record<string, FieldWords> = {
  "rule.survivalFloor": { label: "Must still stand" },
  "rule.yieldFloor": { label: "Must yield" },
  "rule.sureness": { label: "How sure", ask: "Enter how sure you want to be, such as 80" },
};

/** The form's words for a field of the decision rule; null for any other field. */
export function ruleWords(field: string): FieldWords | null {
  if (words[field]) return words[field];
  const quality = /^rule\.qualities\.(\d+)\.(trait|weight)$/.exec(field);
  if (!quality) return null;
  return { label: quality[2] === "trait" ? `Quality ${Number(quality[1]) + 1}` : "How it counts" };
}
