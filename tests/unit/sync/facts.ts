import { draftFact, type FactDraft } from "@/lib/sync/device/fact-draft";
import type { OutboxEntry } from "@/lib/sync/device/outbox-entry";
import { isBedFact } from "@/lib/words/bed-fact";
import type { Day } from "@/lib/words/day";
import { type Instant, instantOf } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";

/** An id that is different for each number, in the form of a UUIDv7. */
export function idOf(number: number): string {
  return `0190a000-0000-7000-8000-${number.toString(16).padStart(12, "0")}`;
}

export function instantAt(minutes: number): Instant {
  return instantOf(Date.UTC(2027, 0, 14, 9, minutes));
}

export const walkDay = "2027-01-14" as Day;

export function lossDraft(plotId: string, changes: Partial<FactDraft> = {}): FactDraft {
  return draftFact({
    plotId,
    kind: "loss",
    cause: "slugs",
    amount: 1,
    unit: "plants",
    seenOn: walkDay,
    by: "Ivy",
    ...changes,
  });
}

/** The facts of plots among entries. */
export function plotFacts(entries: Pick<OutboxEntry, "fact">[]): Observation[] {
  return entries.map((entry) => entry.fact).filter((fact): fact is Observation => !isBedFact(fact));
}
