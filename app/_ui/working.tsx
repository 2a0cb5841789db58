import type { ReactNode } from "react";
import styles from "./working.module.css";

/** What stands behind the words, one click away. */
export function Working({
  summary = "Show the working",
  isOpen = false,
  children,
}: {
  summary?: string;
  /** Open from the start, where what is inside has something to say. */
  isOpen?: boolean;
  children: ReactNode;
}) {
  return (
    <details className={styles.working} open={isOpen}>
      <summary>{summary}</summary>
      <div className={styles.words}>{children}</div>
    </details>
  );
}
