"use client";

import { useState } from "react";
import { Sheet } from "@/app/_field/sheet";
import { TapButton } from "@/app/_field/tap-button";
import type { PlotView } from "@/lib/sync/device/plot-view";
import { type Looking, scoreDraft } from "@/lib/sync/device/walk-acts";
import type { Perform } from "./act";
import { ScoreCells } from "./score-cells";

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
  const next = asked[at];
  const goOn = () => (at + 1 < asked.length ? setAt(at + 1) : onBack());
  return (
    <Sheet title={`${title}: plot ${next.view.plot.code}`} onBack={onBack}>
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
      <TapButton manner="quiet" wide onTap={goOn}>
        Leave this one out
      </TapButton>
    </Sheet>
  );
}
