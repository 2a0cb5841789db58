"use client";

import { useState } from "react";
import styles from "@/app/_field/field.module.css";
import { Sheet } from "@/app/_field/sheet";
import { TapButton } from "@/app/_field/tap-button";
import type { PlotView } from "@/lib/sync/device/plot-view";
import { type Looking, scoreDraft, stageDraft } from "@/lib/sync/device/walk-acts";
import { sayGrowthStage } from "@/lib/words/growth-stage";
import type { Perform } from "./act";
import { ScoreCells } from "./score-cells";
import { StageStep } from "./stage-step";

/** One plot and trait that is still to be scored. */
export interface ToScore {
  view: PlotView;
  trait: string;
}

/** Scores a bed plot by plot on an assessment day. The variety's name is not shown here: a name leads the eye. */
export function ScoreSheet({
  title,
  list,
  looking,
  perform,
  onBack,
}: {
  title: string;
  list: ToScore[];
  looking: Looking;
  perform: Perform;
  onBack: () => void;
}) {
  // The list at opening is kept, so that a score just given does not shift the ones behind it.
  const [asked] = useState(list);
  const [at, setAt] = useState(0);
  const [staging, setStaging] = useState(false);
  const next = asked[at];
  const goOn = () => (at + 1 < asked.length ? setAt(at + 1) : onBack());
  const heading = `${title}: plot ${next.view.plot.code}`;
  if (staging)
    return (
      <Sheet title={heading} onBack={() => setStaging(false)}>
        <StageStep
          view={next.view}
          onStage={async (stage) => {
            const kept = await perform({
              drafts: [stageDraft(looking, next.view, stage)],
              words: `${next.view.plot.code}: growth stage ${sayGrowthStage(stage)}.`,
            });
            if (kept) setStaging(false);
          }}
        />
      </Sheet>
    );
  return (
    <Sheet title={heading} onBack={onBack}>
      <ScoreCells
        trait={next.trait}
        onScore={async (score) => {
          const kept = await perform({
            drafts: [scoreDraft(looking, next.view, next.trait, score)],
            words: `${next.view.plot.code}: ${next.trait} ${score} of 9.`,
          });
          if (kept) goOn();
        }}
      />
      <p>
        {at + 1} of {asked.length}
      </p>
      <div className={styles.stack}>
        <TapButton manner="quiet" wide onTap={goOn}>
          Leave this one out
        </TapButton>
        <TapButton manner="quiet" wide onTap={() => setStaging(true)}>
          Growth stage of this plot
        </TapButton>
      </div>
    </Sheet>
  );
}
