"use client";

import { useState } from "react";
import styles from "./field.module.css";
import { useSaid } from "./said";

/**
 * What was done last, and what was ignored; read out when it changes. A sheet shows only what was said since it opened,
 * and the tap that was ignored while it did.
 */
export function StatusLine({ className, onlyNew = false }: { className?: string; onlyNew?: boolean }) {
  const { words, aside } = useSaid();
  const [opening] = useState(() => ({ words, atMs: Date.now() }));
  const done = onlyNew && words === opening.words ? "" : words;
  const ignored = aside !== null && (!onlyNew || aside.atMs > opening.atMs - 1_000) ? aside.words : "";
  return (
    <p role="status" className={className ?? styles.status}>
      {`${done} ${ignored}`.trim()}
    </p>
  );
}
