/** What a tap took, in milliseconds from the finger's leaving the glass. */
export interface TapTimes {
  /** Until the browser handed the tap to the page. */
  heardMs: number;
  /** Until the phone's store said that the disk has the fact; null for a tap that writes nothing. */
  storedMs: number | null;
  /** Until the frame that shows it was drawn. */
  drawnMs: number;
}

/** How the measuring script is reached from outside the page. */
export interface TapWatch {
  /** Waits for the next tap: until no sheet is open and this mark is shown, or until one is open where there is none. */
  expect(mark: string | null): void;
  taken: Promise<TapTimes> | null;
  /** How durable the last transaction that wrote facts was asked to be. */
  durability: string | null;
}

/**
 * Runs in the page before its own scripts: notes when the finger leaves, when the page hears of it, when a transaction that wrote facts is complete,
 * and when what a tap does stands on the screen. The program itself knows nothing of it.
 */
export function watchTaps(): void {
  let liftedMs = 0;
  let heardMs = 0;
  let storedMs: number | null = null;
  const watch: TapWatch = {
    durability: null,
    taken: null,
    expect(mark) {
      storedMs = null;
      watch.taken = new Promise((resolve) => {
        const isShown = () => {
          const isOpen = document.querySelector("dialog[open]") !== null;
          if (mark === null) return isOpen;
          const said = document.querySelector("[role=status]")?.textContent ?? "";
          return (
            !isOpen && said.includes("On this phone.") && document.querySelector(`[aria-label="${mark}"]`)
          );
        };
        const observer = new MutationObserver(() => {
          if (!isShown()) return;
          observer.disconnect();
          // A message posted within a frame is handled once that frame has been drawn.
          requestAnimationFrame(() => {
            const { port1, port2 } = new MessageChannel();
            port1.onmessage = () =>
              resolve({
                heardMs: heardMs - liftedMs,
                storedMs: storedMs === null ? null : storedMs - liftedMs,
                drawnMs: performance.now() - liftedMs,
              });
            port2.postMessage(null);
          });
        });
        observer.observe(document, { subtree: true, childList: true, attributes: true, characterData: true });
      });
    },
  };
  Object.assign(globalThis, { tapWatch: watch });
  addEventListener(
    "pointerup",
    (event) => {
      liftedMs = event.timeStamp;
    },
    true,
  );
  addEventListener("click", () => (heardMs = performance.now()), true);
  const open = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (this: IDBDatabase, ...asked: Parameters<typeof open>) {
    const made = open.apply(this, asked);
    // Facts are made with the device's own count; what is sent changes them without it.
    if (made.mode === "readwrite" && made.objectStoreNames.contains("device"))
      made.addEventListener("complete", () => {
        storedMs ??= performance.now();
        watch.durability = made.durability;
      });
    return made;
  } as typeof open;
}

/**
 * Runs in the page: adds as many facts that wait to be sent, made like the first one there: counts of every plot on the
 * days since planting, as a winter without a signal would leave them.
 */
export async function fillOutbox(count: number): Promise<void> {
  const answer = <Value>(asked: IDBRequest<Value>) =>
    new Promise<Value>((resolve, reject) => {
      asked.onsuccess = () => resolve(asked.result);
      asked.onerror = () => reject(asked.error);
    });
  const phone = await answer(indexedDB.open("proving-bed"));
  const writing = phone.transaction(["outbox", "device", "kept"], "readwrite");
  const [outbox, device, kept] = ["outbox", "device", "kept"].map((name) => writing.objectStore(name));
  const [first] = await answer(outbox.getAll());
  const row = await answer(device.get("this"));
  const { pack } = await answer(kept.get("pack"));
  const plots: { id: string; plants: number; plantedOn: string }[] = pack.beds.flatMap(
    (bed: { plots: object[] }) => bed.plots,
  );
  const days = Math.round((Date.parse(pack.today) - Date.parse(plots[0].plantedOn)) / 86_400_000);
  for (let made = 0; made < count; made += 1) {
    const plot = plots[made % plots.length];
    const day = Math.floor((made * days) / count);
    const sequence = row.nextSequence + made;
    const id = crypto.randomUUID();
    outbox.add({
      ...first,
      id,
      sequence,
      fact: {
        ...first.fact,
        id,
        deviceSequence: sequence,
        walkaboutId: null,
        plotId: plot.id,
        kind: "stand",
        cause: null,
        amount: plot.plants,
        seenOn: new Date(Date.parse(plot.plantedOn) + day * 86_400_000).toISOString().slice(0, 10),
      },
    });
  }
  device.put({ ...row, nextSequence: row.nextSequence + count }, "this");
  await new Promise((resolve, reject) => {
    writing.oncomplete = resolve;
    writing.onerror = reject;
  });
  phone.close();
}
