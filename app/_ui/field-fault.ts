import type { Fault } from "@/lib/words/fault";
import { sayFault } from "@/lib/words/say-fault";

/** A fault as a form shows it: at its field and in the summary, in the same words. */
export interface FieldFault {
  /** The id of the field, or of the group when no field is its own. */
  at: string;
  words: string;
}

/** What a form answers with when it cannot be taken: everything that was typed, and what is wrong with it. */
export interface FormAnswer {
  values: Record<string, string>;
  faults: FieldFault[];
  /** Counts up with every answer, so that the page knows a new one from the last. */
  turn: number;
}

/** The words of a form's field, for its faults: its label, and what to say when it was left empty. */
export interface FieldWords {
  label: string;
  ask?: string;
  /** Said instead of any fault, where one sentence is right for all. */
  always?: string;
}

/** Every text field of a form as it was sent. What the framework adds is left out. */
export function typedValues(form: FormData): Record<string, string> {
  const values: Record<string, string> = {};
  for (const [name, value] of form) {
    if (typeof value === "string" && !name.startsWith("$ACTION"))
      values[name] = value.replaceAll("\r\n", "\n");
  }
  return values;
}

/**
 * Faults in a form's own words, in the order of its fields; a field's first fault stands for it. A group without a field
 * of its name takes the place of its first.
 */
export function fieldFaults(
  faults: readonly Fault[],
  values: Record<string, string>,
  words: (place: string) => FieldWords,
): FieldFault[] {
  const names = Object.keys(values);
  const placeOf = (at: string) => {
    const place = names.findIndex((name) => name === at || name.startsWith(`${at}.`));
    return place < 0 ? names.length : place;
  };
  const first = new Map<string, Fault>();
  for (const fault of faults) if (!first.has(fault.place)) first.set(fault.place, fault);
  const inOrder = [...first.values()].sort((a, b) => placeOf(a.place) - placeOf(b.place));
  return inOrder.map((fault) => {
    const { label, ask, always } = words(fault.place);
    const said = always ? `${always}.` : sayFault(fault, label, values[fault.place] ?? "", ask);
    return { at: fault.place, words: said };
  });
}
