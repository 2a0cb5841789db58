"use client";

import { useState } from "react";
import type { DeviceState } from "@/lib/sync/device/device";
import type { OutboxEntry } from "@/lib/sync/device/outbox-entry";
import { unsent } from "@/lib/sync/device/unsent";
import { unsentFile } from "@/lib/sync/device/unsent-file";
import { sayDay } from "@/lib/words/day";
import { instantOf } from "@/lib/words/instant";
import { AskName } from "./ask-name";
import styles from "./field.module.css";
import { MendFact } from "./mend-fact";
import { say } from "./said";
import { sayFact, sayPlot } from "./say-fact";
import { Sheet } from "./sheet";
import { TapButton } from "./tap-button";
import { thisDevice } from "./use-device";

const nagAfterMs = 3 * 24 * 3_600_000;
const clockOffMs = 6 * 3_600_000;

function saveToFile(entries: OutboxEntry[]): void {
  const savedAt = instantOf(Date.now());
  const text = JSON.stringify(unsentFile(entries, savedAt), null, 2);
  const address = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  const link = document.createElement("a");
  link.href = address;
  link.download = `proving-bed-unsent-${savedAt.slice(0, 10)}.json`;
  link.click();
  URL.revokeObjectURL(address);
  say("The facts that are not yet home were saved to a file. They stay on this phone too.");
}

/** What the phone holds: sending, saving to a file, what home refused, who records. */
export function OutboxSheet({
  state,
  nowMs,
  onBack,
}: {
  state: DeviceState;
  nowMs: number;
  onBack: () => void;
}) {
  const [mending, setMending] = useState<string | null>(null);
  const [naming, setNaming] = useState(false);
  const { kept, entries } = state;
  const held = unsent(entries, nowMs);
  const refused = entries.filter((entry) => entry.state === "refused");
  const some = held.waiting + held.toBeSettled > 0;
  const clockHours = Math.round(Math.abs(kept.clockAheadMs ?? 0) / 3_600_000);
  return (
    <Sheet title="On this phone" onBack={onBack}>
      {held.oldestMs !== null && held.oldestMs > nagAfterMs && (
        <p className={styles.warning}>
          Some facts have been here only for three days or more. Find a signal or save them to a file: some
          phones empty a page's store after seven days without a visit.
        </p>
      )}
      {Math.abs(kept.clockAheadMs ?? 0) > clockOffMs && (
        <p className={styles.warning}>
          This phone's clock is {clockHours} hours {(kept.clockAheadMs ?? 0) > 0 ? "ahead of" : "behind"}{" "}
          home's. Facts get the wrong day until it is put right.
        </p>
      )}
      <p>
        {some
          ? "Nothing leaves this phone before home has answered for it. Closing the browser loses nothing."
          : "All that was recorded here is on the disk at home."}
      </p>
      <div className={styles.row}>
        <TapButton onTap={() => thisDevice().sync()}>{state.sending ? "Sending…" : "Send now"}</TapButton>
        {some && <TapButton onTap={() => saveToFile(entries)}>Save unsent to a file</TapButton>}
      </div>
      {refused.length > 0 && (
        <>
          <h3>To be settled</h3>
          <p>
            Home could not take these as they are. Write each anew, or set it aside; it stays on this phone.
          </p>
          <ul className={styles.facts}>
            {refused.map((entry) => (
              <li key={entry.id}>
                <p>
                  <strong>
                    {kept.pack ? `${sayPlot(kept.pack.pack, entry.fact.plotId)}: ` : ""}
                    {kept.pack ? sayFact(entry.fact, kept.pack.pack) : entry.fact.kind}
                  </strong>
                  , {sayDay(entry.fact.seenOn)}, {entry.fact.by}
                </p>
                {entry.refusal && (
                  <p className={styles.warning}>
                    Home found {entry.refusal.place} to be {entry.refusal.found}; it wants{" "}
                    {entry.refusal.wanted}.
                  </p>
                )}
                {mending === entry.id && kept.pack ? (
                  <MendFact entry={entry} pack={kept.pack.pack} onDone={() => setMending(null)} />
                ) : (
                  <div className={styles.row}>
                    <TapButton onTap={() => setMending(entry.id)}>Write it anew</TapButton>
                    <TapButton manner="quiet" onTap={() => thisDevice().setAside(entry.id)}>
                      Set it aside
                    </TapButton>
                  </div>
                )}
              </li>
            ))}
          </ul>
        </>
      )}
      <h3>Who records</h3>
      {naming || kept.by === null ? (
        <AskName question="Who is recording?" name={kept.by ?? ""} onDone={() => setNaming(false)} />
      ) : (
        <div className={styles.row}>
          <p>{kept.by}</p>
          <TapButton manner="quiet" onTap={() => setNaming(true)}>
            Somebody else
          </TapButton>
        </div>
      )}
    </Sheet>
  );
}
