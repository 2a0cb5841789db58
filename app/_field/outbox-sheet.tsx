"use client";

import { useState } from "react";
import type { DeviceState } from "@/lib/sync/device/device";
import type { OutboxEntry } from "@/lib/sync/device/outbox-entry";
import { unsent } from "@/lib/sync/device/unsent";
import { unsentFile } from "@/lib/sync/device/unsent-file";
import type { FieldPack } from "@/lib/sync/field-pack";
import { isBedFact } from "@/lib/words/bed-fact";
import { sayDay } from "@/lib/words/day";
import { instantOf } from "@/lib/words/instant";
import { AskName } from "./ask-name";
import { isClockOff, sayClockOff } from "./clock-off";
import styles from "./field.module.css";
import { say } from "./said";
import { sayPlacedFact } from "./say-fact";
import { sayPictures } from "./say-pictures";
import { Sheet } from "./sheet";
import { TapButton } from "./tap-button";
import { thisDevice } from "./use-device";
import { type Place, WriteAnew } from "./write-anew";

const nagAfterMs = 3 * 24 * 3_600_000;

function saveToFile(entries: OutboxEntry[]): void {
  const savedAt = instantOf(Date.now());
  const text = JSON.stringify(unsentFile(entries, savedAt), null, 2);
  const address = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  const link = document.createElement("a");
  link.href = address;
  link.download = `proving-bed-unsent-${savedAt.slice(0, 10)}.json`;
  link.click();
  URL.revokeObjectURL(address);
  say("The facts that are not yet home were saved to a file, without pictures. They stay on this phone too.");
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
  const { kept, entries, pictures, persisted } = state;
  const held = unsent(entries, pictures, nowMs);
  const refused = entries.filter((entry) => entry.state === "refused");
  const some = held.waiting + held.toBeSettled > 0;
  const hand = kept.hand ?? "right";
  return (
    <Sheet title="On this phone" onBack={onBack}>
      {held.oldestMs !== null && held.oldestMs > nagAfterMs && (
        <p className={styles.warning}>
          Some facts have been here only for three days or more. Find a signal or save them to a file: some
          phones empty a page's store after seven days without a visit.
        </p>
      )}
      {isClockOff(kept.clockAheadMs) && (
        <p className={styles.warning}>
          {sayClockOff(kept.clockAheadMs ?? 0)} Every fact carries by how much.
        </p>
      )}
      <p>
        {some || held.pictures > 0
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
                  <strong>{kept.pack ? sayPlacedFact(entry.fact, kept.pack.pack) : entry.fact.kind}</strong>,{" "}
                  {sayDay(entry.fact.seenOn)}, {entry.fact.by}
                </p>
                {entry.refusal && (
                  <p className={styles.warning}>
                    Home found {entry.refusal.place} to be {entry.refusal.found}; it wants{" "}
                    {entry.refusal.wanted}.
                  </p>
                )}
                {mending === entry.id && kept.pack ? (
                  <WriteAnew
                    fact={entry.fact}
                    by={entry.fact.by}
                    places={placesFor(entry, kept.pack.pack)}
                    causes={kept.pack.pack.causes}
                    how="settles"
                    onDone={() => setMending(null)}
                  />
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
      {pictures.refused.length > 0 && (
        <p className={styles.warning}>
          Home could not take {sayPictures(pictures.refused.length)}: too large, or no picture. What was
          written beside it is not touched.
        </p>
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
      <h3>Which hand</h3>
      <div className={styles.row}>
        {(["left", "right"] as const).map((side) => (
          <TapButton
            key={side}
            manner={side === hand ? "main" : "plain"}
            aria-pressed={side === hand}
            onTap={() => thisDevice().keep({ hand: side })}
          >
            {side === "left" ? "Left" : "Right"}
          </TapButton>
        ))}
      </div>
      <h3>Kept here</h3>
      <p>
        {persisted
          ? "This browser has promised not to empty this page's store by itself."
          : "This browser has not promised to keep this page's store when room runs short. Send often; putting the page on the home screen usually helps."}
      </p>
    </Sheet>
  );
}

/** The plots that a refused fact may be of, or for a fact of a bed the beds. */
function placesFor({ fact }: OutboxEntry, pack: FieldPack): Place[] {
  if (isBedFact(fact)) return pack.beds.map((bed) => ({ id: bed.id, words: bed.name }));
  return pack.beds.flatMap((bed) =>
    bed.plots.map((plot) => ({ id: plot.id, words: `${bed.name}, ${plot.code}` })),
  );
}
