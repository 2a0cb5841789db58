import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import { v4 as randomId } from "uuid";
import { completePack } from "./complete-pack";
import { type DeviceStore, type Kept, keptKeys } from "./device-store";
import { changeEntry, type OutboxEntry } from "./outbox-entry";
import { type DeviceRow, stampFacts } from "./stamp-facts";

interface PhoneSchema extends DBSchema {
  outbox: { key: string; value: OutboxEntry; indexes: { sequence: number } };
  kept: { key: string; value: unknown };
  device: { key: "this"; value: DeviceRow };
  pictures: {
    key: string;
    value: { sha256: string; bytes: ArrayBuffer; state: "waiting" | "refused" };
    indexes: { state: string };
  };
}

type Phone = IDBPDatabase<PhoneSchema>;

/** Strict: `complete` comes only once the browser has been told that the disk has it. */
const strict = { durability: "strict" } as const;

async function openPhone(onLost: () => void): Promise<Phone> {
  const phone = await openDB<PhoneSchema>("proving-bed", 2, {
    // Every version only adds: what an older one left stays as it is.
    upgrade(database, before) {
      if (before < 1) {
        database
          .createObjectStore("outbox", { keyPath: "id" })
          .createIndex("sequence", "sequence", { unique: true });
        database.createObjectStore("kept");
        database.createObjectStore("device");
      }
      if (before < 2)
        database.createObjectStore("pictures", { keyPath: "sha256" }).createIndex("state", "state");
    },
    blocking(_current, _blocked, event) {
      // A newer version of the program waits in another tab: let it in; the next use here opens anew.
      (event.target as IDBDatabase).close();
      onLost();
    },
    terminated: onLost,
  });
  return phone;
}

/** Runs the work and resolves once its transaction is complete; whatever fails takes the whole transaction back. */
async function whole<Value>(
  transaction: { done: Promise<void>; abort(): void },
  work: () => Promise<Value>,
): Promise<Value> {
  const working = work().catch((fault: unknown) => {
    try {
      transaction.abort();
    } catch {
      // It has aborted by itself.
    }
    throw fault;
  });
  const [value] = await Promise.all([working, transaction.done]);
  return value;
}

/** The phone's store in IndexedDB, in one database that all tabs share. */
export function indexedDbStore(): DeviceStore {
  let opened: Promise<Phone> | null = null;
  const phone = () => {
    if (opened === null) {
      const opening = openPhone(() => {
        if (opened === opening) opened = null;
      });
      opening.catch(() => {
        if (opened === opening) opened = null;
      });
      opened = opening;
    }
    return opened;
  };

  return {
    async record({ drafts, ids, recordedAt, clockSkewS, pictures = [], alongside, settles }) {
      const transaction = (await phone()).transaction(
        ["device", "outbox", "kept", "pictures"],
        "readwrite",
        strict,
      );
      const device = transaction.objectStore("device");
      const outbox = transaction.objectStore("outbox");
      const kept = transaction.objectStore("kept");
      return whole(transaction, async () => {
        const row = (await device.get("this")) ?? { deviceId: randomId(), nextSequence: 0 };
        const stamped = stampFacts({ drafts, ids, recordedAt, clockSkewS }, row);
        // Asked for all at once: the transaction keeps their order, and a tap waits for one answer instead of for each.
        await Promise.all([
          device.put(stamped.row, "this"),
          ...stamped.entries.map((entry) => outbox.add(entry)),
          ...pictures.map((picture) =>
            transaction.objectStore("pictures").put({ ...picture, state: "waiting" }),
          ),
          ...Object.entries(alongside).map(([key, value]) => kept.put(value, key)),
        ]);
        for (const id of settles) {
          const entry = await outbox.get(id);
          if (entry?.state === "refused")
            await outbox.put(changeEntry(entry, { id, state: "settled", settledBy: ids[0] ?? null }));
        }
        return stamped.entries;
      });
    },

    async entries(page) {
      const after = page ? IDBKeyRange.lowerBound(page.after, true) : null;
      return (await phone()).getAllFromIndex("outbox", "sequence", after, page?.most);
    },

    async change(changes) {
      const transaction = (await phone()).transaction("outbox", "readwrite", strict);
      return whole(transaction, async () => {
        for (const change of changes) {
          const entry = await transaction.store.get(change.id);
          if (entry) await transaction.store.put(changeEntry(entry, change));
        }
      });
    },

    async forgetHome(ids) {
      const transaction = (await phone()).transaction("outbox", "readwrite", strict);
      return whole(transaction, async () => {
        for (const id of ids) {
          const entry = await transaction.store.get(id);
          if (entry?.state === "home") await transaction.store.delete(id);
        }
      });
    },

    async pictures() {
      const transaction = (await phone()).transaction("pictures", "readonly");
      const byState = transaction.store.index("state");
      const [waiting, refused] = await Promise.all([
        byState.getAllKeys("waiting"),
        byState.getAllKeys("refused"),
      ]);
      return { waiting, refused };
    },

    async pictureBytes(sha256) {
      return (await (await phone()).get("pictures", sha256))?.bytes ?? null;
    },

    async settlePicture(sha256, answer) {
      const transaction = (await phone()).transaction("pictures", "readwrite", strict);
      return whole(transaction, async () => {
        const picture = await transaction.store.get(sha256);
        if (!picture) return;
        if (answer === "home") await transaction.store.delete(sha256);
        else await transaction.store.put({ ...picture, state: "refused" });
      });
    },

    async kept(keys = keptKeys) {
      const transaction = (await phone()).transaction("kept", "readonly");
      const values = await Promise.all(
        keptKeys.map((key) => (keys.includes(key) ? transaction.store.get(key) : null)),
      );
      await transaction.done;
      const kept = Object.fromEntries(
        keptKeys.map((key, index) => [key, values[index] ?? null]),
      ) as unknown as Kept;
      return kept.pack ? { ...kept, pack: { ...kept.pack, pack: completePack(kept.pack.pack) } } : kept;
    },

    async keep(things: Partial<Kept>) {
      const transaction = (await phone()).transaction("kept", "readwrite", strict);
      return whole(transaction, async () => {
        for (const [key, value] of Object.entries(things)) await transaction.store.put(value, key);
      });
    },
  };
}
