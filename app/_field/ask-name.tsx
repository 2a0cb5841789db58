"use client";

import { useState } from "react";
import styles from "./field.module.css";
import { say } from "./said";
import { TapButton } from "./tap-button";
import { thisDevice } from "./use-device";

const longestName = 120;

/** Asks once who records; every fact carries the name. */
export function AskName({ question, name, onDone }: { question: string; name: string; onDone?: () => void }) {
  const [typed, setTyped] = useState(name);
  const [fault, setFault] = useState<string | null>(null);
  const keep = async () => {
    const by = typed.trim();
    if (by === "") return setFault("Enter a name: every fact carries it.");
    if (by.length > longestName) return setFault(`The name must be ${longestName} letters at most.`);
    try {
      await thisDevice().keep({ by });
      say(`${by} is recording.`);
      onDone?.();
    } catch {
      setFault("The name could not be kept on this phone.");
    }
  };
  return (
    <form
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        void keep();
      }}
    >
      <label className={styles.label} htmlFor="recorder-name">
        {question}
      </label>
      {fault && (
        <p id="recorder-name-fault" className={styles.warning} role="alert">
          {fault}
        </p>
      )}
      <input
        id="recorder-name"
        className={styles.input}
        value={typed}
        autoComplete="name"
        aria-invalid={fault !== null}
        aria-describedby={fault ? "recorder-name-fault" : undefined}
        onChange={(event) => setTyped(event.target.value)}
      />
      <div className={styles.row}>
        <TapButton manner="main" onTap={keep}>
          That is me
        </TapButton>
      </div>
    </form>
  );
}
