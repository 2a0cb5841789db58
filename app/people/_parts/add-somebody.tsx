"use client";

import { useActionState } from "react";
import { SendButton } from "@/app/_ui/button";
import { RadioTiles } from "@/app/_ui/choice-tiles";
import { ErrorSummary } from "@/app/_ui/error-summary";
import { TextField } from "@/app/_ui/field";
import { addSomebody } from "../actions";

export function AddSomebody() {
  const [answer, act] = useActionState(addSomebody, { values: {}, faults: [], turn: 0 });
  return (
    <form action={act} noValidate key={answer.turn}>
      <ErrorSummary faults={answer.faults} turn={answer.turn} />
      <TextField
        name="name"
        label="Name"
        hint="As it is to stand beside what they record. It stays as it is, since facts carry it."
        faults={answer.faults}
        value={answer.values.name ?? ""}
      />
      <RadioTiles
        name="role"
        legend="What they may do on a phone"
        choices={[
          { value: "gardener", words: "Everything" },
          { value: "weigh only", words: "Only weigh what was picked" },
        ]}
        value={answer.values.role ?? "gardener"}
        faults={answer.faults}
      />
      <SendButton manner="main">Add</SendButton>
    </form>
  );
}
