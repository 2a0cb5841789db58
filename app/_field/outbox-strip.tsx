"use client";

import { useState } from "react";
import type { DeviceState } from "@/lib/sync/device/device";
import { sayAge, type Unsent, unsent } from "@/lib/sync/device/unsent";
import styles from "./field.module.css";
import { OutboxSheet } from "./outbox-sheet";
import { sayPictures } from "./say-pictures";
import { TapButton } from "./tap-button";
import { useNowMs } from "./use-now";

const troubleWords = {
  "no signal": "No signal.",
  "sign in": "Sign in to send.",
  "home cannot answer": "Home cannot answer.",
  "home says later": "Home says later.",
} as const;

function sayTrouble({ trouble, why }: DeviceState): string {
  if (trouble === null) return "";
  return trouble === "home says later" && why ? `Home says later: ${why}.` : troubleWords[trouble];
}

const facts = (count: number) => (count === 1 ? "1 fact" : `${count} facts`);

function sayUnsent({ waiting, toBeSettled, pictures, oldestMs }: Unsent): string {
  const parts: string[] = [];
  const here = [waiting > 0 ? facts(waiting) : "", pictures > 0 ? sayPictures(pictures) : ""].filter(Boolean);
  if (here.length > 0) parts.push(`${here.join(" and ")} on this phone only`);
  if (toBeSettled > 0) parts.push(`${facts(toBeSettled)} to be settled`);
  if (parts.length === 0) return "Everything is home.";
  if (oldestMs === null) return `${parts.join(", ")}.`;
  const age = sayAge(oldestMs);
  return `${parts.join(", ")}; the oldest ${age === "just now" ? age : `${age} old`}.`;
}

/** What is on this phone only and since when: always in sight, and the way to what is to be settled. */
export function OutboxStrip({ state }: { state: DeviceState }) {
  const [open, setOpen] = useState(false);
  const nowMs = useNowMs();
  if (!state.ready && state.storeFault === null)
    return <div className={styles.strip}>Reading what this phone holds…</div>;
  const held = unsent(state.entries, state.pictures, nowMs ?? 0);
  return (
    <>
      <TapButton bare className={styles.strip} onTap={() => setOpen(true)}>
        <span>
          {state.storeFault !== null && (
            <strong className={styles.warning}>Not kept: {state.storeFault} </strong>
          )}
          {sayUnsent(held)} {sayTrouble(state)}
        </span>
        <span className={styles.stripMore}>{held.toBeSettled > 0 ? "Settle" : "More"}</span>
      </TapButton>
      {open && <OutboxSheet state={state} nowMs={nowMs ?? 0} onBack={() => setOpen(false)} />}
    </>
  );
}
