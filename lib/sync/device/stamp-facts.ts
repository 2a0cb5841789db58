import { type Fact, isBedFact } from "@/lib/words/bed-fact";
import type { Recording } from "./device-store";
import type { OutboxEntry } from "./outbox-entry";

/** The device's own row: who it is, and the number that its next fact gets. */
export interface DeviceRow {
  deviceId: string;
  nextSequence: number;
}

/** Gives each draft its id and its place in the device's count; the row is the device's afterwards. */
export function stampFacts(
  {
    drafts,
    ids,
    recordedAt,
    clockSkewS = null,
  }: Pick<Recording, "drafts" | "ids" | "recordedAt" | "clockSkewS">,
  row: DeviceRow,
): { entries: OutboxEntry[]; row: DeviceRow } {
  const entries = drafts.map((draft, index): OutboxEntry => {
    const stamp = {
      id: ids[index],
      deviceId: row.deviceId,
      deviceSequence: row.nextSequence + index,
      recordedAt,
    };
    const fact: Fact = isBedFact(draft)
      ? { ...draft, ...stamp, clockSkewS }
      : { ...draft, ...stamp, ...(clockSkewS !== null && { clockSkewS }) };
    return {
      schema: 1,
      id: fact.id,
      sequence: fact.deviceSequence,
      fact,
      state: "waiting",
      refusal: null,
      settledBy: null,
    };
  });
  return { entries, row: { ...row, nextSequence: row.nextSequence + drafts.length } };
}
