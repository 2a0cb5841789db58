"use client";

import { type ReactNode, useEffect, useId, useRef } from "react";
import styles from "./field.module.css";
import { sayAside } from "./said";
import { isSecondTap } from "./second-tap";
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
    // The echo of the tap that opened the sheet may fall between its buttons or beside it.
    const beside = (event: MouseEvent) => {
      const onButton = event.target instanceof Element && event.target.closest("button") !== null;
      if (!onButton && isSecondTap(event)) sayAside("Second tap ignored.");
    };
    shown?.addEventListener("click", beside);
    return () => {
      shown?.removeEventListener("click", beside);
      shown?.close();
    };
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
