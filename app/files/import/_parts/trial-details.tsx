"use client";

import type { FormEvent } from "react";
import { SendButton } from "@/app/_ui/button";
import { faultAt } from "@/app/_ui/field";
import type { FieldFault } from "@/app/_ui/field-fault";
import form from "@/app/_ui/form.module.css";
import type { ImportAsked } from "@/lib/service/import-asked";

const fields = [
  { name: "question", label: "The question that the trial answers", hint: "" },
  { name: "crop", label: "The crop", hint: "" },
  {
    name: "check",
    label: "The check variety",
    hint: "As it is written in the plots; blank where there is none.",
  },
] as const;

/** What a trial's tables do not say by themselves. */
export function TrialDetails({
  asked,
  faults,
  onChange,
  onTry,
}: {
  asked: ImportAsked;
  faults: readonly FieldFault[];
  onChange(asked: ImportAsked): void;
  onTry(event: FormEvent): void;
}) {
  return (
    <form onSubmit={onTry} noValidate>
      {fields.map(({ name, label, hint }) => {
        const id = `import-${name}`;
        const fault = faultAt(faults, id);
        const described = [hint ? `${id}-hint` : "", fault ? `${id}-fault` : ""].filter(Boolean).join(" ");
        return (
          <div key={name} className={`${form.field} ${fault ? form.faulty : ""}`}>
            <label className={form.label} htmlFor={id}>
              {label}
            </label>
            {hint && (
              <span className={form.hint} id={`${id}-hint`}>
                {hint}
              </span>
            )}
            {fault && (
              <span className={form.fault} id={`${id}-fault`}>
                {fault}
              </span>
            )}
            <input
              id={id}
              type="text"
              className={form.input}
              autoComplete="off"
              value={asked.trial[name]}
              aria-describedby={described || undefined}
              onChange={(event) =>
                onChange({ ...asked, trial: { ...asked.trial, [name]: event.target.value } })
              }
            />
          </div>
        );
      })}
      <SendButton manner="main">Try it</SendButton>
    </form>
  );
}
