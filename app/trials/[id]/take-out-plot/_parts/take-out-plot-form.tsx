"use client";

import { useActionState } from "react";
import { SendButton } from "@/app/_ui/button";
import { RadioTiles } from "@/app/_ui/choice-tiles";
import { ErrorSummary } from "@/app/_ui/error-summary";
import { SelectField, TextArea, TextField } from "@/app/_ui/field";
import { takeOutPlot } from "../actions";
import { takeOutWords } from "./take-out-words";

export function TakeOutPlotForm({
  values,
  plots,
  varieties,
  plantedOn,
}: {
  values: Record<string, string>;
  plots: { value: string; words: string }[];
  varieties: string[];
  plantedOn: string;
}) {
  const [answer, act] = useActionState(takeOutPlot, { values, faults: [], turn: 0 });
  const field = (name: string) => ({
    name,
    label: takeOutWords(name).label,
    faults: answer.faults,
    value: answer.values[name] ?? "",
  });
  return (
    <form action={act} noValidate key={answer.turn}>
      <input type="hidden" name="trialId" defaultValue={answer.values.trialId} />
      <ErrorSummary faults={answer.faults} turn={answer.turn} />
      <SelectField {...field("plotId")} options={[{ value: "", words: "Choose a plot" }, ...plots]} />
      <RadioTiles
        {...field("kind")}
        legend="What happened to it?"
        choices={[
          {
            value: "excluded",
            words: "It cannot be judged fairly",
            more: "an accident, or not true to name",
          },
          {
            value: "another variety",
            words: "Another variety was planted there",
            more: "by mistake, or later in its place",
          },
          {
            value: "missing",
            words: "There is nothing to judge",
            more: "did not come up, never planted, or dug over",
          },
        ]}
      />
      <TextField
        {...field("plantedVariety")}
        hint="Only where another was planted. Chance did not deal it that place, so the plot counts for neither variety: to count it would undo the deal. Two plots changed over are two such plots."
        options={varieties}
        width="medium"
      />
      <TextField
        {...field("fromOn")}
        width="day"
        hint={`Such as ${plantedOn}, the planting day, for a plot planted wrongly. What was recorded from that day on does not count.`}
      />
      <TextArea {...field("reason")} hint="It is shown with the results." />
      <TextField {...field("by")} width="medium" hint="It may be left empty." />
      <SendButton manner="main">Take the plot out</SendButton>
    </form>
  );
}
