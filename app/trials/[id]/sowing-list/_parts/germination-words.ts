import type { FieldWords } from "@/app/_ui/field-fault";

const words: Record<string, FieldWords> = {
  seeds: { label: "Seeds laid out", ask: "Enter how many seeds were laid out" },
  cameUp: { label: "Came up", ask: "Enter how many came up; 0 where none did" },
  afterDays: { label: "After days", ask: "Enter after how many days they were counted" },
};

/** The form's words for a field of a germination test; the field's name ends in the entry's id. */
export function germinationWords(field: string): FieldWords {
  return words[field.split(".")[0]] ?? { label: "This test" };
}
