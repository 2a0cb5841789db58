"use client";

import { useMemo, useState } from "react";
import styles from "@/app/_field/field.module.css";
import { FieldFrame, type FieldReady } from "@/app/_field/field-frame";
import { say } from "@/app/_field/said";
import { TapButton } from "@/app/_field/tap-button";
import { thisDevice, useDeviceState } from "@/app/_field/use-device";
import type { WeighIn } from "@/lib/sync/device/device-store";
import { plotViewer } from "@/lib/sync/device/plot-view";
import { takesPlant } from "@/lib/sync/device/weigh-acts";
import type { FieldTrial } from "@/lib/sync/field-pack";
import { sayDay } from "@/lib/words/day";
import { type HarvestPart, harvestParts } from "@/lib/words/harvest-part";
import { DayAndPart } from "./day-and-part";
import { WeighBeds } from "./weigh-beds";
import { WeighPlots } from "./weigh-plots";

/** Weighs what was picked, plot by plot through a trial on one day. */
export function WeighInScreen() {
  return (
    <FieldFrame title="Weigh-in" asks="Who is weighing?">
      {(ready) => <WeighDay {...ready} />}
    </FieldFrame>
  );
}

function WeighDay({ pack, by, today }: FieldReady) {
  const { kept, entries } = useDeviceState();
  const [viewsOf] = useState(plotViewer);
  const views = useMemo(() => viewsOf(pack, entries, {}), [viewsOf, pack, entries]);
  const [asked, setAsked] = useState<FieldTrial | null>(null);
  const [changing, setChanging] = useState(false);
  const [byBed, setByBed] = useState(false);
  const { weighIn } = kept;
  const trial = pack.trials.find((candidate) => candidate.id === weighIn?.trialId);
  const under = weighIn !== null && trial !== undefined && weighIn.startedOn === today ? weighIn : null;

  const keep = async (changed: WeighIn | null) => {
    try {
      await thisDevice().keep({ weighIn: changed });
      setAsked(null);
      setChanging(false);
      say("");
    } catch {
      say("Not kept: the phone could not write it down.");
    }
  };
  const begin = (chosen: FieldTrial, part: HarvestPart) =>
    keep({
      weighInId: thisDevice().newId(),
      startedOn: today,
      trialId: chosen.id,
      pickedOn: today,
      part,
      whole: takesPlant(part),
    });

  if (byBed || pack.trials.length === 0)
    return (
      <WeighBeds
        pack={pack}
        by={by}
        today={today}
        onTrials={pack.trials.length === 0 ? null : () => setByBed(false)}
      />
    );
  if (asked !== null)
    return (
      <>
        <h1>What is picked?</h1>
        <p>{asked.question}</p>
        <div className={styles.row}>
          {harvestParts.map((part) => (
            <TapButton key={part} onTap={() => begin(asked, part)}>
              {part}
            </TapButton>
          ))}
        </div>
        <TapButton manner="quiet" onTap={() => setAsked(null)}>
          Back
        </TapButton>
      </>
    );
  if (under === null || trial === undefined)
    return (
      <>
        <h1>Weigh-in</h1>
        <p>
          Which trial was picked? Each plot is asked for once, in walking order, all for the same day. Set the
          scale to nought with the empty tub on it. Weights that were mixed, or shared out afterwards, are no
          weights of plots: write those down by bed.
        </p>
        <ul className={styles.stack}>
          {pack.trials.map((candidate) => (
            <li key={candidate.id}>
              <TapButton
                wide
                onTap={() =>
                  candidate.parts.length === 0 ? setAsked(candidate) : begin(candidate, candidate.parts[0])
                }
              >
                {candidate.crop}: {candidate.question}
              </TapButton>
            </li>
          ))}
        </ul>
        <TapButton wide onTap={() => setByBed(true)}>
          Everything else, by bed
        </TapButton>
        {weighIn !== null && trial !== undefined && (
          <TapButton manner="quiet" wide onTap={() => keep({ ...weighIn, startedOn: today })}>
            Go on with {trial.crop}, picked {sayDay(weighIn.pickedOn)}
          </TapButton>
        )}
      </>
    );
  return (
    <>
      <WeighPlots
        key={`${under.weighInId}/${under.pickedOn}/${under.part}`}
        pack={pack}
        trial={trial}
        weighing={{ ...under, by }}
        views={views}
        onDay={() => setChanging(true)}
        onTrial={() => keep(null)}
      />
      {changing && (
        <DayAndPart weighIn={under} today={today} onChange={keep} onBack={() => setChanging(false)} />
      )}
    </>
  );
}
