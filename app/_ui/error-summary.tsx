"use client";

import { type MouseEvent, useEffect, useRef } from "react";
import type { FieldFault } from "./field-fault";
import styles from "./form.module.css";

/** Brings a field's label or a group's legend into view before the field takes the cursor. */
function goTo(event: MouseEvent, at: string) {
  const field = document.getElementById(at);
  if (!field) return;
  event.preventDefault();
  const group = field.closest("fieldset");
  const label = document.querySelector(`label[for="${CSS.escape(at)}"]`) ?? group?.querySelector("legend");
  (label ?? field).scrollIntoView({ block: "start" });
  const first = field.matches("input, select, textarea")
    ? field
    : (field.querySelector<HTMLElement>("input, select, textarea") ?? field);
  (first as HTMLElement).focus({ preventScroll: true });
}

/** What is wrong with a form, above its heading: takes the cursor when it comes, and each line leads to its field. */
export function ErrorSummary({ faults, turn }: { faults: FieldFault[]; turn: number }) {
  const box = useRef<HTMLDivElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new answer takes the cursor even when its faults are the same
  useEffect(() => {
    if (faults.length === 0) return;
    box.current?.focus();
    const title = document.title;
    document.title = `To mend: ${title}`;
    return () => {
      document.title = title;
    };
  }, [turn]);
  if (faults.length === 0) return null;
  return (
    <div className={styles.summary} role="alert" tabIndex={-1} ref={box} aria-labelledby="error-summary">
      <h2 id="error-summary">
        {faults.length === 1 ? "One thing to mend" : `${faults.length} things to mend`}
      </h2>
      <ul>
        {faults.map(({ at, words }) => (
          <li key={`${at} ${words}`}>
            <a href={`#${at}`} onClick={(event) => goTo(event, at)}>
              {words}
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}
