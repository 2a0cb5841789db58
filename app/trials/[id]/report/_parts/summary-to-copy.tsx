"use client";

import { useRef, useState } from "react";
import formStyles from "@/app/_ui/form.module.css";
import styles from "../report.module.css";

/** The report in a few lines, to paste into a message. The text is selected, so that it can be copied by hand where the browser does not. */
export function SummaryToCopy({ text }: { text: string }) {
  const area = useRef<HTMLTextAreaElement>(null);
  const [said, setSaid] = useState("");
  async function copy() {
    area.current?.focus();
    area.current?.select();
    try {
      await navigator.clipboard.writeText(text);
      setSaid("Copied.");
    } catch {
      setSaid("The text is selected: copy it with Ctrl and C, or hold it and choose Copy.");
    }
  }
  return (
    <div className={formStyles.field}>
      <label className={formStyles.label} htmlFor="summary">
        The report as a message
      </label>
      <textarea
        ref={area}
        id="summary"
        className={`${formStyles.input} ${styles.summary}`}
        readOnly
        rows={10}
        value={text}
      />
      <p className={styles.copy}>
        <button type="button" className={formStyles.button} onClick={copy}>
          Copy
        </button>{" "}
        <span role="status">{said}</span>
      </p>
    </div>
  );
}
