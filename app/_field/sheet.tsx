"use client";

import { type ReactNode, useEffect, useId, useRef } from "react";
import styles from "./field.module.css";
import { StatusLine } from "./status-line";
import { TapButton } from "./tap-button";

/** A sheet over the screen with one matter on it; *Back* and Escape leave it as it was. */
export function Sheet({
  title,
  onBack,
  children,
}: {
  title: string;
  onBack: () => void;
  children: ReactNode;
}) {
  const dialog = useRef<HTMLDialogElement>(null);
  const heading = useRef<HTMLHeadingElement>(null);
  const titleId = useId();
  useEffect(() => {
    const shown = dialog.current;
    if (shown && !shown.open) {
      shown.showModal();
      heading.current?.focus();
    }
    return () => shown?.close();
  }, []);
  return (
    <dialog
      ref={dialog}
      className={styles.sheet}
      aria-labelledby={titleId}
      onCancel={(event) => {
        event.preventDefault();
        onBack();
      }}
    >
      <div className={styles.sheetHead}>
        <h2 id={titleId} ref={heading} tabIndex={-1}>
          {title}
        </h2>
        <TapButton manner="quiet" onTap={onBack}>
          Back
        </TapButton>
      </div>
      <StatusLine onlyNew />
      {children}
    </dialog>
  );
}
