import type * as z from "zod/mini";
import { type Fault, type Outcome, quoteFound, refusal, success } from "@/lib/words/fault";

type Issue = z.core.$ZodIssue;

const kinds: Record<string, string> = {
  int: "a whole number",
  number: "a number",
  string: "text",
  array: "a list",
  object: "a set of fields",
  boolean: "yes or no",
};

function limitWords(issue: Issue & { code: "too_small" | "too_big" }): string {
  const least = issue.code === "too_small";
  const limit = least ? issue.minimum : issue.maximum;
  if (issue.origin === "string") {
    if (least) return limit === 1 ? "an answer" : `at least ${limit} characters`;
    return `at most ${limit} characters`;
  }
  if (issue.origin === "array") return least ? `at least ${limit}` : `at most ${limit}`;
  return least ? `${limit} or more` : `${limit} or less`;
}

function wantedWords(issue: Issue): string {
  switch (issue.code) {
    case "too_small":
    case "too_big":
      return limitWords(issue);
    case "invalid_value":
      return `one of: ${issue.values.join(", ")}`;
    case "invalid_type":
      return kinds[issue.expected] ?? issue.expected;
    case "invalid_format":
      return issue.format === "uuid" ? "an id (UUID)" : issue.format;
    default:
      return issue.message;
  }
}

function valueAt(input: unknown, path: PropertyKey[]): unknown {
  return path.reduce<unknown>((value, key) => (value as Record<PropertyKey, unknown> | null)?.[key], input);
}

function foundWords(value: unknown): string {
  if (value === undefined || value === null) return "nothing";
  if (Array.isArray(value)) return `${value.length}`;
  if (typeof value === "object") return "a set of fields";
  return quoteFound(String(value));
}

/**
 * Reads what was handed in against a schema: the value, or every fault with its place (`entries.2.variety`), what was
 * found there and what would be right.
 */
export function readForm<Schema extends z.ZodMiniType>(
  schema: Schema,
  input: unknown,
): Outcome<z.output<Schema>> {
  const read = schema.safeParse(input);
  if (read.success) return success(read.data);
  const faults: Fault[] = read.error.issues.map((issue) => ({
    place: issue.path.map(String).join(".") || "form",
    found: foundWords(valueAt(input, issue.path)),
    wanted: wantedWords(issue),
  }));
  return refusal(faults);
}
