"use client";

import { useActionState } from "react";
import { SendButton } from "@/app/_ui/button";
import form from "@/app/_ui/form.module.css";
import { passphraseLength } from "@/lib/words/person";
import { keepPassphrase } from "../actions";
import styles from "./people.module.css";

/** Sets a person's passphrase, or another one. */
export function Passphrase({ personId, has }: { personId: string; has: boolean }) {
  const [answer, act] = useActionState(keepPassphrase, { fault: null, done: false });
  const id = `passphrase-${personId}`;
  const hints = [`${id}-hint`, answer.fault ? `${id}-fault` : ""].join(" ").trim();
  return (
    <details className={styles.fold} open={answer.fault !== null || undefined}>
      <summary>{has ? "Another passphrase" : "Set a passphrase"}</summary>
      <form action={act} className={form.form}>
        <input type="hidden" name="personId" value={personId} />
        <div className={`${form.field} ${answer.fault ? form.faulty : ""}`}>
          <label className={form.label} htmlFor={id}>
            Passphrase
          </label>
          <span className={form.hint} id={`${id}-hint`}>
            At least {passphraseLength.least} letters: four words that have nothing to do with each other,
            say. It is for phones that are not paired.
          </span>
          {answer.fault && (
            <span className={form.fault} id={`${id}-fault`} role="alert">
              {answer.fault}
            </span>
          )}
          <input
            id={id}
            name="passphrase"
            type="password"
            className={form.input}
            autoComplete="new-password"
            aria-invalid={answer.fault ? true : undefined}
            aria-describedby={hints}
          />
        </div>
        <SendButton>Keep the passphrase</SendButton>
      </form>
      {answer.done && <p role="status">The passphrase is kept.</p>}
    </details>
  );
}
