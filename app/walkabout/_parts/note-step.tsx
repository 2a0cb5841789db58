"use client";

import { useState } from "react";
import styles from "@/app/_field/field.module.css";
import { TapButton } from "@/app/_field/tap-button";

const longestNote = 10_000;

/** A note, typed or spoken into the keyboard. */
export function NoteStep({ onNote }: { onNote: (note: string) => void }) {
  const [note, setNote] = useState("");
  const [fault, setFault] = useState<string | null>(null);
  return (
    <>
      <label className={styles.label} htmlFor="field-note">
        Note, typed or spoken
      </label>
      {fault && (
        <p id="field-note-fault" className={styles.warning} role="alert">
          {fault}
        </p>
      )}
      <textarea
        id="field-note"
        className={styles.input}
        value={note}
        aria-invalid={fault !== null}
        aria-describedby={fault ? "field-note-fault" : undefined}
        onChange={(event) => setNote(event.target.value)}
      />
      <TapButton
        manner="main"
        wide
        onTap={() => {
          const words = note.trim();
          if (words === "") setFault("Enter a note.");
          else if (words.length > longestNote)
            setFault(
              `The note must be ${longestNote.toLocaleString("en-GB")} letters at most; it has ${words.length.toLocaleString("en-GB")}.`,
            );
          else onNote(words);
        }}
      >
        Write it down
      </TapButton>
    </>
  );
}
