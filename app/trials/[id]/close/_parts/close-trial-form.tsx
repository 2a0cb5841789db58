"use client";

import { useActionState } from "react";
import { SendButton } from "@/app/_ui/button";
import { ErrorSummary } from "@/app/_ui/error-summary";
import { TextArea, TextField } from "@/app/_ui/field";
import { closeTheTrial } from "../actions";

export function CloseTrialForm({ values }: { values: Record<string, string> }) {
  const [answer, act] = useActionState(closeTheTrial, { values, faults: [], turn: 0 });
  const field = (name: string) => ({ name, faults: answer.faults, value: answer.values[name] ?? "" });
  return (
    <form action={act} noValidate key={answer.turn}>
      <input type="hidden" name="trialId" defaultValue={answer.values.trialId} />
      <ErrorSummary faults={answer.faults} turn={answer.turn} />
      <TextArea
        {...field("reason")}
        label="Why is it closed?"
        hint="The bed was wanted; it has bolted; it failed."
      />
      <TextField {...field("by")} label="Who closes it" width="medium" hint="It may be left empty." />
      <SendButton manner="main">Close the trial</SendButton>
    </form>
  );
}
