import Link from "next/link";
import type { ReactNode } from "react";
import styles from "./form.module.css";

type Manner = "main" | "plain" | "quiet";

function look(manner: Manner): string {
  return manner === "plain" ? styles.button : `${styles.button} ${styles[manner]}`;
}

/** A button that sends its form, saying what is to be done with it (`act`). Never disabled: the answer says why not. */
export function SendButton({
  act,
  manner = "plain",
  id,
  children,
}: {
  act?: string;
  manner?: Manner;
  id?: string;
  children: ReactNode;
}) {
  return (
    <button type="submit" name="act" value={act ?? ""} id={id} className={look(manner)}>
      {children}
    </button>
  );
}

/** A link that looks like a button, for the one thing to do next. */
export function LinkButton({
  href,
  manner = "main",
  children,
}: {
  href: string;
  manner?: Manner;
  children: ReactNode;
}) {
  return (
    <Link href={href} className={look(manner)}>
      {children}
    </Link>
  );
}
