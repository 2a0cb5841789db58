import type { DeviceStore, Kept } from "@/lib/sync/device/device-store";
import { changeEntry, type OutboxEntry } from "@/lib/sync/device/outbox-entry";
import { type DeviceRow, stampFacts } from "@/lib/sync/device/stamp-facts";

/** The phone's store without a phone: the same promises as the one in IndexedDB, for the pure parts above it. */
export function memoryStore(deviceId: string): DeviceStore & { full: boolean } {
  let row: DeviceRow = { deviceId, nextSequence: 0 };
  const outbox = new Map<string, OutboxEntry>();
  let kept: Kept = {
    by: null,
    pack: null,
    walk: null,
    weighIn: null,
    marks: null,
    recentCauses: null,
    clockAheadMs: null,
    clockAnswer: null,
    hand: null,
  };
  const pictures = new Map<string, { bytes: ArrayBuffer; state: "waiting" | "refused" }>();
  const inState = (state: string) =>
    [...pictures].filter(([, picture]) => picture.state === state).map(([sha256]) => sha256);
  const store = {
    full: false,
    async record(recording: Parameters<DeviceStore["record"]>[0]) {
      const { drafts, ids, recordedAt, clockSkewS, pictures: taken = [], alongside, settles } = recording;
      if (store.full) throw new DOMException("no room", "QuotaExceededError");
      const stamped = stampFacts({ drafts, ids, recordedAt, clockSkewS }, row);
      row = stamped.row;
      for (const entry of stamped.entries) outbox.set(entry.id, entry);
      for (const { sha256, bytes } of taken) pictures.set(sha256, { bytes, state: "waiting" });
      kept = { ...kept, ...alongside };
      for (const id of settles) {
        const entry = outbox.get(id);
        if (entry?.state === "refused")
          outbox.set(id, changeEntry(entry, { id, state: "settled", settledBy: ids[0] ?? null }));
      }
      return stamped.entries;
    },
    async entries({ after, most }: { after: number; most: number } = { after: -1, most: outbox.size }) {
      return [...outbox.values()]
        .filter((entry) => entry.sequence > after)
        .sort((one, other) => one.sequence - other.sequence)
        .slice(0, most);
    },
    async change(changes: Parameters<DeviceStore["change"]>[0]) {
      for (const change of changes) {
        const entry = outbox.get(change.id);
        if (entry) outbox.set(entry.id, changeEntry(entry, change));
      }
    },
    async forgetHome(ids: string[]) {
      for (const id of ids) if (outbox.get(id)?.state === "home") outbox.delete(id);
    },
    async pictures() {
      return { waiting: inState("waiting"), refused: inState("refused") };
    },
    async pictureBytes(sha256: string) {
      return pictures.get(sha256)?.bytes ?? null;
    },
    async settlePicture(sha256: string, answer: "home" | "refused") {
      const picture = pictures.get(sha256);
      if (answer === "home") pictures.delete(sha256);
      else if (picture) pictures.set(sha256, { ...picture, state: "refused" });
    },
    async kept() {
      return kept;
    },
    async keep(things: Parameters<DeviceStore["keep"]>[0]) {
      kept = { ...kept, ...things };
    },
  };
  return store;
}
