"use client";

import type { ReactNode } from "react";
import styles from "./field.module.css";
import { TapButton } from "./tap-button";

/** Big keys for a figure: what they make is typed text, so that a keyboard does as well. */
export function KeyPad({
  keys,
  onTyped,
  write,
}: {
  keys: readonly string[];
  onTyped: (change: (text: string) => string) => void;
  /** The button that writes the figure down. */
  write: ReactNode;
}) {
  const press = (key: string) => (text: string) => (key === "kg" ? `${text} kg` : `${text}${key}`);
  const wipe = (text: string) => (text.endsWith(" kg") ? text.slice(0, -3) : text.slice(0, -1));
  return (
    <fieldset className={styles.plainSet}>
      <legend className={styles.hidden}>Keys</legend>
      <div className={styles.keys}>
        {keys.map((key) => (
          <TapButton key={key} repeats onTap={() => onTyped(press(key))}>
            {key}
          </TapButton>
        ))}
        <TapButton repeats aria-label="Wipe the last sign" onTap={() => onTyped(wipe)}>
          ←
        </TapButton>
        {write}
      </div>
    </fieldset>
  );
}
