"use client";

import styles from "./field.module.css";
import { TapButton } from "./tap-button";

/** A count with a large minus and plus. */
export function CountStepper({
  label,
  count,
  onCount,
  unit,
}: {
  label: string;
  count: number;
  onCount: (count: number) => void;
  unit: string;
}) {
  return (
    <fieldset className={styles.plainSet}>
      <legend className={styles.label}>{label}</legend>
      <div className={styles.stepper}>
        <TapButton repeats aria-label={`One ${unit} fewer`} onTap={() => onCount(Math.max(0, count - 1))}>
          −
        </TapButton>
        <output className={styles.stepperCount} aria-live="polite">
          {count}
        </output>
        <TapButton repeats aria-label={`One ${unit} more`} onTap={() => onCount(Math.min(99_999, count + 1))}>
          +
        </TapButton>
      </div>
    </fieldset>
  );
}
