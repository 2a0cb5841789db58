"use client";

import { useState } from "react";
import styles from "@/app/_field/field.module.css";
import { say } from "@/app/_field/said";
import { StatusLine } from "@/app/_field/status-line";
import { TapButton } from "@/app/_field/tap-button";
import { thisDevice } from "@/app/_field/use-device";
import type { WeighIn } from "@/lib/sync/device/device-store";
import type { FactDraft } from "@/lib/sync/device/fact-draft";
import type { PlotView } from "@/lib/sync/device/plot-view";
import {
  changePickDrafts,
  type Pick,
  type Picked,
  pickDrafts,
  picksOf,
  takeBackPickDrafts,
} from "@/lib/sync/device/weigh-acts";
import type { FieldPack, FieldTrial } from "@/lib/sync/field-pack";
import { sayDay } from "@/lib/words/day";
import { sayWeightG } from "@/lib/words/weight";
import weighStyles from "./weigh.module.css";
import { WeighOne } from "./weigh-one";

/** How a pick is said: *450 g*, *3 for 1.2 kg*, *nothing to pick*. */
function sayPick({ weightG, plants }: Picked): string {
  if (weightG === null) return "not picked";
  if (weightG === 0 && !plants) return "nothing to pick";
  return plants ? `${plants} for ${sayWeightG(weightG)}` : sayWeightG(weightG);
}

/** Every plot of a trial in walking order; what is done stands beneath and can be changed or taken back. */
export function WeighPlots({
  pack,
  trial,
  weighing,
  views,
  onDay,
  onTrial,
}: {
  pack: FieldPack;
  trial: FieldTrial;
  weighing: WeighIn & { by: string };
  views: Map<string, PlotView>;
  onDay: () => void;
  onTrial: () => void;
}) {
  const [turned, setTurned] = useState<{ plotId: string; pick: Pick | null } | null>(null);
  const lines = pack.beds
    .flatMap((bed) => bed.plots)
    .filter((plot) => plot.trialId === trial.id)
    .map((plot) => views.get(plot.id))
    .filter((view) => view !== undefined)
    .map((view) => ({ view, picks: picksOf(view, weighing.pickedOn, weighing.part) }));
  const next = turned
    ? lines.find((line) => line.view.plot.id === turned.plotId)
    : lines.find((line) => line.picks.length === 0 && line.view.endedOn === null);
  const done = lines.filter((line) => line.picks.length > 0);
  const totalG = done.flatMap((line) => line.picks).reduce((sum, pick) => sum + (pick.weightG ?? 0), 0);

  const record = async (drafts: FactDraft[], words: string) => {
    try {
      await thisDevice().record(drafts);
      say(`${words} On this phone.`);
      setTurned(null);
      return true;
    } catch {
      say("Not kept: the phone could not write it down. What was typed is still here; try again.");
      return false;
    }
  };
  const write = (view: PlotView, picked: Picked) => {
    const pick = turned?.pick ?? null;
    const drafts =
      pick === null ? pickDrafts(weighing, view, picked) : changePickDrafts(weighing, view, pick, picked);
    const stood = view.standing + (pick?.plants ?? 0);
    const beyond =
      picked.plants !== null && picked.plants > stood
        ? ` The record says ${stood} stood, you took ${picked.plants}: both are kept, to be settled.`
        : "";
    return record(drafts, `${view.plot.code}: ${sayPick(picked)}.${beyond}`);
  };
  const takeBack = (view: PlotView, pick: Pick) =>
    record(takeBackPickDrafts(weighing, pick.facts), `${view.plot.code}: ${sayPick(pick)} taken back.`);

  return (
    <>
      <div className={styles.row}>
        <TapButton manner="quiet" onTap={onDay}>
          {trial.crop}, {weighing.part}, picked {sayDay(weighing.pickedOn)}: change
        </TapButton>
      </div>
      <StatusLine className={weighStyles.said} />
      {next ? (
        <WeighOne
          key={`${next.view.plot.id}/${turned?.pick?.facts[0]?.id ?? ""}`}
          view={next.view}
          whole={weighing.whole}
          before={turned?.pick ?? null}
          progress={`${done.length} of ${lines.length} done`}
          onWrite={(picked) => write(next.view, picked)}
          onBack={turned ? () => setTurned(null) : null}
        />
      ) : (
        <>
          <h1>Every plot is asked for</h1>
          <p>
            {sayWeightG(totalG)} in all from {done.length} plots, {sayDay(weighing.pickedOn)}.
          </p>
        </>
      )}
      {done.length > 0 && (
        <>
          <h2>Written down for {sayDay(weighing.pickedOn)}</h2>
          <ul className={styles.facts}>
            {done.toReversed().map(({ view, picks }) =>
              picks.map((pick) => (
                <li key={pick.facts[0].id}>
                  <strong>{view.plot.code}</strong> {view.plot.variety}: {sayPick(pick)}
                  {view.questions.length > 0 && (
                    <span className={styles.warning}> To be settled: more taken than stood.</span>
                  )}
                  <div className={styles.row}>
                    <TapButton
                      manner="quiet"
                      aria-label={`Change ${view.plot.code}`}
                      onTap={() => setTurned({ plotId: view.plot.id, pick })}
                    >
                      Change
                    </TapButton>
                    <TapButton
                      manner="quiet"
                      aria-label={`Take back ${view.plot.code}`}
                      onTap={() => takeBack(view, pick)}
                    >
                      Take back
                    </TapButton>
                    <TapButton
                      manner="quiet"
                      aria-label={`Weigh more from ${view.plot.code}`}
                      onTap={() => setTurned({ plotId: view.plot.id, pick: null })}
                    >
                      Weigh more
                    </TapButton>
                  </div>
                </li>
              )),
            )}
          </ul>
        </>
      )}
      <div className={styles.row}>
        <TapButton manner="quiet" onTap={onTrial}>
          Another trial
        </TapButton>
      </div>
    </>
  );
}
