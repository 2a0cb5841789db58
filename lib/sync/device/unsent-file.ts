import { contractVersion } from "@/lib/sync/contract";
import type { Fact } from "@/lib/words/bed-fact";
import type { Instant } from "@/lib/words/instant";
import type { OutboxEntry } from "./outbox-entry";

/**
 * The file of facts that are not yet home: the rescue when a phone cannot reach home again. `contract` is the version of
 * its form. Pictures are not in it.
 */
export interface UnsentFile {
  what: "Proving Bed: facts that are not yet home";
  contract: number;
  savedAt: Instant;
  facts: Fact[];
}

/** Every fact that waits or was refused, whole, in the order in which they were made. */
export function unsentFile(entries: OutboxEntry[], savedAt: Instant): UnsentFile {
  return {
    what: "Proving Bed: facts that are not yet home",
    contract: contractVersion,
    savedAt,
    facts: entries
      .filter((entry) => entry.state === "waiting" || entry.state === "refused")
      .sort((one, other) => one.sequence - other.sequence)
      .map((entry) => entry.fact),
  };
}
