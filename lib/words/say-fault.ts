import { isDay, sayDay } from "./day";
import { type Fault, quoteFound } from "./fault";

/** Days as people read them; an example of a date that is given in both forms keeps the first. */
function withDaysSaid(words: string): string {
  return words
    .replace(/(such as .*) or \d{4}-\d{2}-\d{2}$/, "$1")
    .replace(/\b\d{4}-\d{2}-\d{2}\b/g, (day) => (isDay(day) ? sayDay(day, true) : day));
}

/**
 * A fault as the sentence that stands beside its field and in the summary above the form.
 *
 * @param label the field's own words, *Sowing date*
 * @param typed what stands in the field; where that is what the fault found, it is quoted as typed
 * @param ask what to say when nothing was typed, *Enter the question that the trial is to answer*
 *
 * Example: sayFault({ place: "blocks", found: "four", wanted: "a whole number" }, "Blocks", "four") →
 * `Blocks must be a whole number; “four” was typed.`
 */
export function sayFault(fault: Fault, label: string, typed: string, ask?: string): string {
  const wanted = withDaysSaid(fault.wanted);
  if (fault.found === "nothing" || (fault.found === "0" && typed === ""))
    return `${ask ?? `${label}: enter ${wanted}`}.`;
  if (fault.found === quoteFound(typed)) return `${label} must be ${wanted}; “${fault.found}” was typed.`;
  return `${label}: ${withDaysSaid(fault.found)}. What would do: ${wanted}.`;
}
