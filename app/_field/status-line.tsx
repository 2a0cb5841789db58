"use client";

import { useState } from "react";
import styles from "./field.module.css";
import { useSaid } from "./said";

/**
 * What was done last, and what was ignored; read out when it changes. A sheet shows only what was said since it opened.
 */
export function StatusLine({ className, onlyNew = false }: { className?: string; onlyNew?: boolean }) {
  const said = useSaid();
  const [before] = useState(said);
  return (
    <p role="status" className={className ?? styles.status}>
      {onlyNew && said === before ? "" : said}
    </p>
  );
}
