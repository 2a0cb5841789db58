"use client";

import { type FormEvent, useState } from "react";
import { SendButton } from "@/app/_ui/button";
import form from "@/app/_ui/form.module.css";

const field = "copy-file";

/** Sends a garden's file home to be looked at; the next page shows what it holds. */
export function SendCopy() {
  const [fault, setFault] = useState<string | null>(null);
  const [isBusy, setBusy] = useState(false);

  async function send(event: FormEvent<HTMLFormElement>) {
    event.preventDefault();
    if (isBusy) return;
    const file = new FormData(event.currentTarget).get("file");
    if (!(file instanceof File) || file.name === "") return setFault("Choose the file first.");
    setFault(null);
    setBusy(true);
    try {
      const answer = await fetch("/api/restore", { method: "POST", body: file });
      const told = answer.headers.get("Content-Type")?.includes("json") ? await answer.json() : null;
      if (answer.ok && told) {
        window.location.assign(`/files/put-back?copy=${told.name}`);
        return;
      }
      const [first] = told?.faults ?? [];
      setFault(
        first
          ? `Found: ${first.found}. Wanted: ${first.wanted}.`
          : answer.status === 413
            ? "The file is larger than can be sent here: put it back with npm run restore."
            : "It could not be sent. Try once more.",
      );
    } catch {
      setFault("It could not be sent: Proving Bed does not answer. Try once more.");
    }
    setBusy(false);
  }

  return (
    <form onSubmit={send} noValidate>
      <div className={`${form.field} ${fault ? form.faulty : ""}`}>
        <label className={form.label} htmlFor={field}>
          A garden’s file, as it was downloaded here
        </label>
        <span className={form.hint} id={`${field}-hint`}>
          Its name ends in .sqlite. It is sent to this machine only.
        </span>
        {fault && (
          <span className={form.fault} id={`${field}-fault`} role="alert">
            {fault}
          </span>
        )}
        <input
          id={field}
          name="file"
          type="file"
          accept=".sqlite"
          className={form.input}
          aria-describedby={fault ? `${field}-hint ${field}-fault` : `${field}-hint`}
          aria-invalid={fault ? true : undefined}
        />
      </div>
      <div className={form.buttons}>
        <SendButton>{isBusy ? "Being sent and read…" : "Look at it"}</SendButton>
      </div>
    </form>
  );
}
