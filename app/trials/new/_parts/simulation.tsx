"use client";

import { useRef, useState } from "react";
import { typedValues } from "@/app/_ui/field-fault";
import formStyles from "@/app/_ui/form.module.css";
import type { SimulatedBatch } from "@/lib/service/simulate-trial";
import { simulatePlan } from "../actions";

const batches = 10;

interface Tally {
  done: number;
  trials: number;
  tries: SimulatedBatch["tries"];
  bestShown: number | null;
}

const nothing: Tally = { done: 0, trials: 0, tries: [], bestShown: null };

function together(before: Tally, batch: SimulatedBatch): Tally {
  return {
    done: before.done + 1,
    trials: before.trials + batch.trials,
    tries: batch.tries.map(({ words, seen }) => ({
      words,
      seen: seen + (before.tries.find((one) => one.words === words)?.seen ?? 0),
    })),
    bestShown: batch.bestShown === null ? null : batch.bestShown + (before.bestShown ?? 0),
  };
}

function words({ trials, tries, bestShown }: Tally): string {
  if (tries.length === 0) return "There is no difference that this plan would show often enough to be tried.";
  const said = tries.map(({ words: tried, seen }) => {
    const share = seen / trials;
    const error = Math.max(1, Math.round(100 * Math.sqrt((share * (1 - share)) / trials)));
    return `${tried} was seen ${Math.round(share * 100)} times in 100 (give or take ${error})`;
  });
  const best =
    bestShown === null
      ? ""
      : ` Where all varieties were truly alike at 75 in 100, the best-looking of them showed ${Math.round((bestShown / trials) * 100)}: the best in such a bed is usually worse than it looks.`;
  return `In ${trials} made-up trials like this one, each put through the analysis of the results, ${said.join("; ")}.${best}`;
}

/** The closed form tried out on made-up trials, batch by batch, for as long as one likes to wait. */
export function Simulation() {
  const [tally, setTally] = useState<Tally | null>(null);
  const [isRunning, setRunning] = useState(false);
  const isStopped = useRef(false);

  const run = async (form: HTMLFormElement | null) => {
    if (!form) return;
    const { act: _, ...values } = typedValues(new FormData(form));
    isStopped.current = false;
    setRunning(true);
    let sum = nothing;
    setTally(sum);
    for (let batch = 0; batch < batches && !isStopped.current; batch += 1) {
      const answer = await simulatePlan(values, batch);
      if (!answer) break;
      sum = together(sum, answer);
      setTally(sum);
    }
    setRunning(false);
  };

  const look = `${formStyles.button} ${formStyles.quiet}`;
  return (
    <div>
      {isRunning ? (
        <>
          <progress max={batches} value={tally?.done ?? 0} aria-label="Made-up trials tried" />{" "}
          <button
            type="button"
            className={look}
            onClick={() => {
              isStopped.current = true;
            }}
          >
            Stop
          </button>
        </>
      ) : (
        <button type="button" className={look} onClick={(event) => void run(event.currentTarget.form)}>
          Try it out on made-up trials
        </button>
      )}
      <p role="status">{tally && tally.trials > 0 && !isRunning ? words(tally) : ""}</p>
    </div>
  );
}
