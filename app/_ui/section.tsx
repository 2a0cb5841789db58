import type { ReactNode } from "react";
import styles from "./page.module.css";

/** A part of a page under a hairline; its heading hangs in the margin on a wide screen. */
export function Section({ title, id, children }: { title: string; id?: string; children: ReactNode }) {
  return (
    <section className={styles.section} aria-labelledby={id && `${id}-heading`}>
      <h2 id={id && `${id}-heading`} tabIndex={id ? -1 : undefined}>
        {title}
      </h2>
      <div className={styles.sectionWords}>{children}</div>
    </section>
  );
}
