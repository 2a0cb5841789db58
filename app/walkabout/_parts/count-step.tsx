"use client";

import { useState } from "react";
import { CountStepper } from "@/app/_field/count-stepper";
import styles from "@/app/_field/field.module.css";
import { sayPackCause } from "@/app/_field/say-fact";
import { TapButton } from "@/app/_field/tap-button";
import type { CohortView, PlotView } from "@/lib/sync/device/plot-view";
import { addedDraft, type Looking, loseDrafts, regrewDraft, standDraft } from "@/lib/sync/device/walk-acts";
import type { FieldPack } from "@/lib/sync/field-pack";
import { sayDay } from "@/lib/words/day";
import { sayPlants } from "@/lib/words/say-observation";
import type { Perform } from "./act";
import bedStyles from "./bed.module.css";
import { CauseChoice } from "./cause-choice";

interface Difference {
  cohort: CohortView;
  ledger: number;
  counted: number;
}

/**
 * A stand count with minus and plus. It is written down whatever it says; where it differs from the record both numbers
 * are shown at once, with the ways to mend either.
 */
export function CountStep({
  pack,
  view,
  looking,
  recentCauses,
  perform,
  onDone,
}: {
  pack: FieldPack;
  view: PlotView;
  looking: Looking;
  recentCauses: string[];
  perform: Perform;
  onDone: () => void;
}) {
  const { plot } = view;
  const [counts, setCounts] = useState(view.cohorts.map((cohort) => cohort.standing));
  const [differences, setDifferences] = useState<Difference[]>([]);
  const difference = differences[0];

  const write = async () => {
    const found = view.cohorts
      .map((cohort, index) => ({ cohort, ledger: cohort.standing, counted: counts[index] }))
      .filter(({ ledger, counted }) => ledger !== counted);
    const kept = await perform({
      drafts: view.cohorts.map((cohort, index) => standDraft(looking, view, cohort.cohortOn, counts[index])),
      words: `${plot.code}: ${counts.reduce((sum, count) => sum + count, 0)} counted.`,
    });
    if (!kept) return;
    if (found.length === 0) onDone();
    else setDifferences(found);
  };
  const settled = () => {
    if (differences.length === 1) onDone();
    else setDifferences(differences.slice(1));
  };
  const mend = async (drafts: Parameters<Perform>[0]["drafts"], says: string, cause?: string) => {
    if (await perform({ drafts, words: `${plot.code}: ${says}.`, ...(cause ? { cause } : {}) })) settled();
  };

  if (!difference)
    return (
      <>
        <p>Plants were drawn as {view.standing} standing. Count what stands now.</p>
        {view.cohorts.map((cohort, index) => (
          <CountStepper
            key={cohort.setOutOn}
            label={
              view.cohorts.length === 1 ? "Standing" : `Standing of those set out ${sayDay(cohort.setOutOn)}`
            }
            unit="plant"
            count={counts[index]}
            onCount={(count) => setCounts(counts.with(index, count))}
          />
        ))}
        <TapButton manner="main" wide onTap={write}>
          Write it down
        </TapButton>
      </>
    );

  const { cohort, ledger, counted } = difference;
  const apart = Math.abs(ledger - counted);
  const again = (
    <TapButton wide manner="quiet" onTap={() => setDifferences([])}>
      Count again
    </TapButton>
  );
  if (counted < ledger)
    return (
      <>
        <p className={bedStyles.ask}>
          The record says {ledger}, you count {counted}: {sayPlants(apart)} gone. To what?
        </p>
        <CauseChoice
          pack={pack}
          recent={recentCauses}
          onCause={(cause) =>
            mend(
              loseDrafts(
                looking,
                view,
                Array.from({ length: apart }, () => cohort.cohortOn),
                cause,
              ),
              `${sayPlants(apart)} gone: ${sayPackCause(pack, cause)}`,
              cause,
            )
          }
        >
          {again}
        </CauseChoice>
      </>
    );
  return (
    <>
      <p className={bedStyles.ask}>
        The record says {ledger}, you count {counted}. How come?
      </p>
      <div className={styles.stack}>
        {again}
        {cohort.lost > 0 && (
          <TapButton
            wide
            onTap={() =>
              mend([regrewDraft(looking, view, cohort.cohortOn, apart)], `${sayPlants(apart)} came again`)
            }
          >
            {apart === 1 ? "One" : apart} came again from the crown
          </TapButton>
        )}
        <TapButton
          wide
          onTap={() =>
            mend([addedDraft(looking, view, cohort.cohortOn, apart)], `${sayPlants(apart)} were added`)
          }
        >
          {apart === 1 ? "One was" : `${apart} were`} set in as well
        </TapButton>
        <TapButton wide manner="quiet" onTap={settled}>
          Leave it to be settled
        </TapButton>
      </div>
    </>
  );
}
