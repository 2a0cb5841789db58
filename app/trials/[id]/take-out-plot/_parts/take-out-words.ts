import type { FieldWords } from "@/app/_ui/field-fault";

const words: Record<string, FieldWords> = {
  plotId: { label: "Plot", always: "Choose a plot" },
  kind: { label: "What happened to it", always: "Choose what happened to it" },
  plantedVariety: {
    label: "Which variety was planted there",
    ask: "Enter the variety that was planted there",
  },
  fromOn: { label: "From which day", ask: "Enter the day from which it is out, such as 14 Jan 2028" },
  reason: { label: "Reason", ask: "Enter what happened" },
  by: { label: "Who says so" },
};

export function takeOutWords(field: string): FieldWords {
  return words[field] ?? { label: "This change" };
}
