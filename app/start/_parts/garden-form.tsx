"use client";

import { useActionState } from "react";
import { SendButton } from "@/app/_ui/button";
import { ErrorSummary } from "@/app/_ui/error-summary";
import { TextField } from "@/app/_ui/field";
import { startOwnGarden } from "../actions";
import { gardenWords } from "./garden-words";

export function GardenForm({ timeZone, timeZones }: { timeZone: string; timeZones: string[] }) {
  const [answer, act] = useActionState(startOwnGarden, { values: { timeZone }, faults: [], turn: 0 });
  const field = (name: string) => ({
    name,
    label: gardenWords(name).label,
    faults: answer.faults,
    value: answer.values[name] ?? "",
  });
  return (
    <form action={act} noValidate key={answer.turn}>
      <ErrorSummary faults={answer.faults} turn={answer.turn} />
      <TextField {...field("name")} />
      <TextField
        {...field("latitude")}
        width="medium"
        inputMode="text"
        hint="In degrees, such as 54.2 N. A tenth of a degree is near enough."
      />
      <TextField {...field("longitude")} width="medium" hint="In degrees, such as 2.3 W." />
      <TextField
        {...field("altitudeM")}
        width="short"
        inputMode="numeric"
        suffix="m"
        hint="In whole metres; it may be left empty."
      />
      <TextField
        {...field("timeZone")}
        width="medium"
        options={timeZones}
        hint="As computers name it. The one that this machine uses is filled in."
      />
      <SendButton manner="main">Start the garden</SendButton>
    </form>
  );
}
