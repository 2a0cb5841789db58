"use client";

import { useActionState } from "react";
import { SendButton } from "@/app/_ui/button";
import { RadioTiles } from "@/app/_ui/choice-tiles";
import { ErrorSummary } from "@/app/_ui/error-summary";
import { TextArea, TextField } from "@/app/_ui/field";
import { giveVerdict } from "../actions";

const choices = [
  { value: "grow again", words: "Grow again" },
  { value: "try once more", words: "Try once more" },
  { value: "drop", words: "Drop" },
];

/** A person's last word on one variety: a choice, a reason, a name. Nothing is chosen beforehand. */
export function VerdictForm({
  trialId,
  entryId,
  variety,
}: {
  trialId: string;
  entryId: string;
  variety: string;
}) {
  const [answer, act] = useActionState(giveVerdict, { values: {}, faults: [], turn: 0 });
  const { values, faults, turn } = answer;
  const of = (field: string) => `${field}.${entryId}`;
  return (
    <form action={act} noValidate key={turn}>
      <input type="hidden" name="trialId" defaultValue={trialId} />
      <input type="hidden" name="entryId" defaultValue={entryId} />
      <ErrorSummary faults={faults} turn={turn} />
      <RadioTiles
        name={of("choice")}
        legend={`Your verdict on ${variety}`}
        faults={faults}
        value={values[of("choice")] ?? ""}
        choices={choices}
      />
      <TextArea
        name={of("reason")}
        label="Why?"
        hint="In a year this is what you will want to know."
        faults={faults}
        value={values[of("reason")] ?? ""}
      />
      <TextField
        name={of("by")}
        label="Your name"
        width="medium"
        faults={faults}
        value={values[of("by")] ?? ""}
      />
      <SendButton manner="main">Write the verdict down</SendButton>
    </form>
  );
}
