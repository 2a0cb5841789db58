"use client";

import { useActionState } from "react";
import { SendButton } from "@/app/_ui/button";
import { FieldGroup } from "@/app/_ui/choice-tiles";
import { ErrorSummary } from "@/app/_ui/error-summary";
import { TextField } from "@/app/_ui/field";
import formStyles from "@/app/_ui/form.module.css";
import { keepTests } from "../actions";
import { germinationWords } from "./germination-words";

const parts = ["seeds", "cameUp", "afterDays"] as const;

/** Germination tests of a trial's packets, three figures each; a row left empty says nothing. */
export function GerminationForm({
  trialId,
  varieties,
  values,
}: {
  trialId: string;
  varieties: { entryId: string; variety: string }[];
  values: Record<string, string>;
}) {
  const [answer, act] = useActionState(keepTests, { values: { ...values, trialId }, faults: [], turn: 0 });
  return (
    <form action={act} noValidate key={answer.turn}>
      <input type="hidden" name="trialId" defaultValue={trialId} />
      <ErrorSummary faults={answer.faults} turn={answer.turn} />
      {varieties.map(({ entryId, variety }) => (
        <FieldGroup key={entryId} name={`test.${entryId}`} legend={variety} faults={answer.faults}>
          <div className={formStyles.pair}>
            {parts.map((part) => (
              <TextField
                key={part}
                name={`${part}.${entryId}`}
                label={germinationWords(part).label}
                faults={answer.faults}
                value={answer.values[`${part}.${entryId}`] ?? ""}
                width="short"
                inputMode="numeric"
              />
            ))}
          </div>
        </FieldGroup>
      ))}
      <SendButton act="keep">Keep the tests</SendButton>
      <p role="status">
        {answer.turn > 0 && answer.faults.length === 0 ? "Kept, and the seeds reckoned." : ""}
      </p>
    </form>
  );
}
