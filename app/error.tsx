"use client";

import styles from "./_ui/form.module.css";
import { PageHeader } from "./_ui/page-header";

/** A fault of the program's own, not of what was typed. */
export default function ErrorPage({ reset }: { reset: () => void }) {
  return (
    <>
      <PageHeader title="Something in the program went wrong" />
      <p>
        Everything recorded before is safe. If you have just sent a form, it may not have been taken: go back
        and look before you send it again. The fault is written in the window where the program was started.
      </p>
      <div className={styles.buttons}>
        <button type="button" className={styles.button} onClick={reset}>
          Try again
        </button>
      </div>
    </>
  );
}
