import type { ReactNode } from "react";
import styles from "./working.module.css";

/** What stands behind the words, one click away. */
export function Working({
  summary = "Show the working",
  children,
}: {
  summary?: string;
  children: ReactNode;
}) {
  return (
    <details className={styles.working}>
      <summary>{summary}</summary>
      <div className={styles.words}>{children}</div>
    </details>
  );
}
