"use client";

import type { ButtonHTMLAttributes, ReactNode } from "react";
import styles from "./field.module.css";
import { sayAside } from "./said";
import { isSecondTap } from "./second-tap";

type Manner = "main" | "quiet" | "plain";

interface TapButtonProps extends Omit<ButtonHTMLAttributes<HTMLButtonElement>, "onClick" | "type"> {
  onTap: () => void;
  manner?: Manner;
  wide?: boolean;
  /** Steppers and keys are tapped fast on one spot, and mean it. */
  repeats?: boolean;
  bare?: boolean;
  children: ReactNode;
}

/** A button for cold wet hands: a second tap on the same spot within a moment is ignored, and said. */
export function TapButton({
  onTap,
  manner = "plain",
  wide = false,
  repeats = false,
  bare = false,
  className = "",
  children,
  ...others
}: TapButtonProps) {
  const look = bare
    ? ""
    : `${styles.button} ${manner === "plain" ? "" : styles[manner]} ${wide ? styles.wide : ""}`;
  return (
    <button
      {...others}
      type="button"
      className={`${look} ${className}`}
      onClick={(event) => {
        if (!repeats && isSecondTap(event)) sayAside("Second tap ignored.");
        else onTap();
      }}
    >
      {children}
    </button>
  );
}
