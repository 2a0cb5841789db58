"use client";

import { useCallback, useEffect, useState } from "react";
import styles from "@/app/_field/field.module.css";
import { StatusLine } from "@/app/_field/status-line";
import { TapButton } from "@/app/_field/tap-button";
import type { BedView } from "@/lib/sync/device/bed-view";
import type { MarksByPlot, Walk } from "@/lib/sync/device/device-store";
import { dueAssessment, traitsToScore } from "@/lib/sync/device/due-assessment";
import type { PlotView } from "@/lib/sync/device/plot-view";
import { couldNotLookDrafts, type Looking, restStandDrafts } from "@/lib/sync/device/walk-acts";
import type { FieldBed, FieldPack } from "@/lib/sync/field-pack";
import type { Day } from "@/lib/words/day";
import { sayPlants } from "@/lib/words/say-observation";
import type { Perform } from "./act";
import bedStyles from "./bed.module.css";
import { BedDrawing } from "./bed-drawing";
import { BedFacts } from "./bed-facts";
import { BedHead } from "./bed-head";
import { BedsSheet } from "./beds-sheet";
import { PlotSheet } from "./plot-sheet";
import { ScoreSheet, type ToScore } from "./score-sheet";

interface BedScreenProps {
  pack: FieldPack;
  bed: FieldBed;
  walk: Walk;
  views: Map<string, PlotView>;
  bedView: BedView;
  today: Day;
  looking: Looking;
  recentCauses: string[];
  marks: MarksByPlot;
  perform: Perform;
  onUndo: () => void;
  onBed: (bedId: string) => void;
  onEnd: () => void;
  onPaper: (day: Day) => void;
  onByPlot: (byPlot: boolean) => void;
}

/** One bed: see the gaps, tap each and its cause; *the rest stand* closes it and goes on to the next. */
export function BedScreen(props: BedScreenProps) {
  const { pack, bed, walk, views, bedView, looking, perform, onUndo, onBed, onEnd } = props;
  const [opened, setOpened] = useState<{ plotId: string; places: number[] } | null>(null);
  const [sheet, setSheet] = useState<"beds" | "scores" | null>(null);
  const inBed = bed.plots.map((plot) => views.get(plot.id)).filter((view) => view !== undefined);
  const [later, setLater] = useState<string[]>([]);
  const here = opened === null ? undefined : views.get(opened.plotId);
  const untold = walk.byPlot ? inBed.filter((view) => restStandDrafts(looking, [view]).length > 0) : [];
  const turn = untold.find((view) => !later.includes(view.plot.id));
  const openMark = useCallback((plotId: string, place: number) => setOpened({ plotId, places: [place] }), []);
  const openPlot = useCallback((plotId: string) => setOpened({ plotId, places: [] }), []);
  useEffect(() => {
    scrollTo({ top: 0, behavior: "instant" });
  }, []);

  const restStand = () => {
    const standing = inBed.reduce((sum, view) => sum + (view.endedOn === null ? view.standing : 0), 0);
    void perform({
      drafts: restStandDrafts(looking, inBed),
      words: `${bed.name}: the rest stand, ${sayPlants(standing)} in all.`,
      closes: "looked",
    });
  };
  const allStand = (view: PlotView) =>
    perform({
      drafts: restStandDrafts(looking, [view]),
      words: `${view.plot.code}: ${sayPlants(view.standing)} standing.`,
      ...(untold.length === 1 && { closes: "looked" as const }),
    });
  const couldNotLook = () => {
    const drafts = couldNotLookDrafts(looking, inBed);
    const plots = new Set(drafts.map((draft) => draft.plotId)).size;
    void perform({
      drafts,
      words:
        plots === inBed.length
          ? `${bed.name}: could not look.`
          : `${bed.name}: could not look at ${plots} of ${inBed.length} plots.`,
      closes: "not-seen",
    });
  };

  const due = pack.trials
    .map((trial) => ({ trial, assessment: dueAssessment(trial, looking.seenOn) }))
    .filter(({ trial, assessment }) => assessment && bed.plots.some((plot) => plot.trialId === trial.id));
  const toScore = due.flatMap(({ trial, assessment }) =>
    inBed
      .filter((view) => view.plot.trialId === trial.id && view.endedOn === null && assessment)
      .flatMap((view) =>
        traitsToScore(trial, assessment!, view.plot.id, view.inForce).map(
          (trait): ToScore & { name: string } => ({ view, trait, name: assessment!.name }),
        ),
      ),
  );

  return (
    <>
      <BedHead pack={pack} bed={bed} paperOn={walk.paperOn ?? null} onBeds={() => setSheet("beds")} />
      <BedFacts pack={pack} view={bedView} looking={looking} perform={perform} />
      {toScore.length > 0 && (
        <TapButton wide onTap={() => setSheet("scores")}>
          Assessment “{toScore[0].name}”: score this bed, {toScore.length} to give
        </TapButton>
      )}
      <BedDrawing bed={bed} views={views} onMark={openMark} onPlot={openPlot} />
      <div className={bedStyles.foot}>
        <StatusLine className={bedStyles.said} />
        <div className={`${bedStyles.acts} ${styles.mirror}`}>
          <TapButton manner="quiet" onTap={onUndo}>
            Undo
          </TapButton>
          <TapButton onTap={couldNotLook}>Could not look</TapButton>
          <TapButton manner="main" onTap={restStand}>
            The rest stand
          </TapButton>
        </div>
      </div>
      {turn && !here && sheet === null && (
        <PlotSheet
          key={`in turn ${turn.plot.id}`}
          pack={pack}
          view={turn}
          places={[]}
          looking={looking}
          recentCauses={props.recentCauses}
          remembered={props.marks[turn.plot.id] ?? {}}
          perform={perform}
          inTurn={{
            progress: `${inBed.indexOf(turn) + 1} of ${inBed.length}`,
            onStand: () => allStand(turn),
            onLater: () => setLater([...later, turn.plot.id]),
          }}
          onBack={() => props.onByPlot(false)}
        />
      )}
      {opened && here && (
        <PlotSheet
          key={opened.plotId}
          pack={pack}
          view={here}
          places={opened.places}
          looking={looking}
          recentCauses={props.recentCauses}
          remembered={props.marks[opened.plotId] ?? {}}
          perform={perform}
          onBack={() => setOpened(null)}
        />
      )}
      {sheet === "scores" && toScore.length > 0 && (
        <ScoreSheet
          title={toScore[0].name}
          list={toScore}
          looking={looking}
          perform={perform}
          onBack={() => setSheet(null)}
        />
      )}
      {sheet === "beds" && (
        <BedsSheet
          pack={pack}
          walk={walk}
          bedId={bed.id}
          today={props.today}
          onBed={onBed}
          onEnd={onEnd}
          onPaper={props.onPaper}
          onByPlot={() => {
            setLater([]);
            props.onByPlot(true);
          }}
          onBack={() => setSheet(null)}
        />
      )}
    </>
  );
}
