"use client";

import { useState } from "react";
import styles from "@/app/_field/field.module.css";
import { TapButton } from "@/app/_field/tap-button";
import type { PlotView } from "@/lib/sync/device/plot-view";
import { beginSentence } from "@/lib/words/begin-sentence";
import { type Day, sayDay } from "@/lib/words/day";
import { growthStage, principalStages, sayGrowthStage, stageFigures } from "@/lib/words/growth-stage";
import bedStyles from "./bed.module.css";

/** The stage last told of a plot, or null. */
function lastTold(view: PlotView): { stage: number; seenOn: Day } | null {
  const last = view.inForce.findLast((fact) => fact.kind === "count" && fact.trait === growthStage);
  return last === undefined ? null : { stage: last.amount ?? 0, seenOn: last.seenOn };
}

/** The growth stage of a plot in two taps: which of the ten, then how far on within it. */
export function StageStep({ view, onStage }: { view: PlotView; onStage: (stage: number) => void }) {
  const [tens, setTens] = useState<number | null>(null);
  const last = lastTold(view);
  return (
    <>
      <p>
        The stage that half of the plants have reached, on the BBCH scale.
        {last && ` Told last: ${sayGrowthStage(last.stage)}, ${sayDay(last.seenOn)}.`}
      </p>
      {tens === null ? (
        <fieldset className={bedStyles.causes}>
          <legend className={bedStyles.ask}>Which of these?</legend>
          <div className={bedStyles.stages}>
            {principalStages.map((words, stage) => (
              <TapButton key={words} onTap={() => setTens(stage)}>
                {stage} {words}
              </TapButton>
            ))}
          </div>
          {last && (
            <TapButton wide onTap={() => onStage(last.stage)}>
              Still {stageFigures(last.stage)}
            </TapButton>
          )}
        </fieldset>
      ) : (
        <fieldset className={bedStyles.causes}>
          <legend className={bedStyles.ask}>
            {beginSentence(principalStages[tens])}: how far on, {stageFigures(10 * tens)} to{" "}
            {stageFigures(10 * tens + 9)}?
          </legend>
          <div className={bedStyles.cells}>
            {Array.from({ length: 10 }, (_, units) => (
              <TapButton
                key={units}
                className={bedStyles.cell}
                aria-label={sayGrowthStage(10 * tens + units)}
                onTap={() => onStage(10 * tens + units)}
              >
                <span className={bedStyles.cellFigure}>{stageFigures(10 * tens + units)}</span>
              </TapButton>
            ))}
          </div>
          <div className={styles.row}>
            <TapButton manner="quiet" onTap={() => setTens(null)}>
              Another of the ten
            </TapButton>
          </div>
        </fieldset>
      )}
    </>
  );
}
