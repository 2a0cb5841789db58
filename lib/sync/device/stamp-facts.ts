import type { Observation } from "@/lib/words/observation";
import type { Recording } from "./device-store";
import type { OutboxEntry } from "./outbox-entry";

/** The device's own row: who it is, and the number that its next fact gets. */
export interface DeviceRow {
  deviceId: string;
  nextSequence: number;
}

/** Gives each draft its id and its place in the device's count; the row is the device's afterwards. */
export function stampFacts(
  { drafts, ids, recordedAt }: Pick<Recording, "drafts" | "ids" | "recordedAt">,
  row: DeviceRow,
): { entries: OutboxEntry[]; row: DeviceRow } {
  const entries = drafts.map((draft, index): OutboxEntry => {
    const fact: Observation = {
      id: ids[index],
      deviceId: row.deviceId,
      deviceSequence: row.nextSequence + index,
      ...draft,
      recordedAt,
    };
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
