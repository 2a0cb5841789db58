import type { ReactNode } from "react";
import styles from "./page.module.css";

/** A page's heading; above it in small what it belongs to, under it one line that says more. */
export function PageHeader({ title, over, lead }: { title: string; over?: string; lead?: ReactNode }) {
  return (
    <div className={styles.heading}>
      {over && <p className={styles.over}>{over}</p>}
      <h1>{title}</h1>
      {lead && <p className={styles.lead}>{lead}</p>}
    </div>
  );
}
