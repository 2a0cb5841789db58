"use client";

import { useState } from "react";
import styles from "@/app/_field/field.module.css";
import { StatusLine } from "@/app/_field/status-line";
import { TapButton } from "@/app/_field/tap-button";
import type { BedView } from "@/lib/sync/device/bed-view";
import type { Walk } from "@/lib/sync/device/device-store";
import type { PlotView } from "@/lib/sync/device/plot-view";
import type { FieldPack } from "@/lib/sync/field-pack";
import { sayDay } from "@/lib/words/day";
import { type BedChange, sayBedChange } from "./say-bed";

/** The last screen of a round: what changed, one sentence a bed, and whether the covers are back on. */
export function RoundEnd({
  pack,
  walk,
  views,
  bedViews,
  onUndo,
  onEnd,
  onBegin,
  onBed,
}: {
  pack: FieldPack;
  walk: Walk;
  views: Map<string, PlotView>;
  bedViews: Map<string, BedView>;
  onUndo: () => void;
  onEnd: () => void;
  onBegin: () => void;
  onBed: (bedId: string) => void;
}) {
  const [notYet, setNotYet] = useState(false);
  const changes = pack.beds.map((bed) => ({
    bed,
    change: sayBedChange(pack, bed, views, bedViews.get(bed.id), walk.walkaboutId),
  }));
  const bedsThat = (change: BedChange) =>
    changes.filter((line) => line.change === change).map((line) => line.bed.name);
  const quiet = bedsThat("nothing to tell");
  const leftOut = bedsThat("left out");
  const walked = changes.filter((line) => line.change !== "left out").map((line) => line.bed);
  const covered = walked.filter((bed) => bed.covers.length > 0 || bedViews.get(bed.id)?.cover === "open");
  const open = [...views.values()].filter((view) => view.questions.length > 0);
  return (
    <>
      <h1>
        {walk.ended ? "Round ended" : "Every bed is done"}, {sayDay(walk.paperOn ?? walk.startedOn)}
        {walk.paperOn && ", from paper"}
      </h1>
      <ul className={styles.facts}>
        {changes.map(
          ({ bed, change }) =>
            typeof change === "object" && (
              <li key={bed.id}>
                <strong>{bed.name}:</strong> {change.sentence}
              </li>
            ),
        )}
      </ul>
      {quiet.length > 0 && <p>Looked over, nothing to tell: {quiet.join(", ")}.</p>}
      {leftOut.length > 0 && <p>Left out: {leftOut.join(", ")}.</p>}
      {open.length > 0 && (
        <p className={styles.warning}>
          To be settled: {open.map((view) => view.plot.code).join(", ")}. Open the plot to see both numbers.
        </p>
      )}
      <StatusLine />
      {walk.ended ? (
        <div className={styles.row}>
          <TapButton onTap={onBegin}>Begin another round</TapButton>
        </div>
      ) : covered.length === 0 || walk.paperOn ? (
        <div className={styles.row}>
          <TapButton manner="main" onTap={onEnd}>
            Done
          </TapButton>
        </div>
      ) : (
        <>
          <h2>Are the covers back on?</h2>
          <ul className={styles.facts}>
            {covered.map((bed) => (
              <li key={bed.id}>
                {bed.name}: {bed.covers.join(", ") || "cover open"}
              </li>
            ))}
          </ul>
          <p>
            A cover catches the wind. Close it all round and weigh down every edge: wind that gets under it
            doubles the force. In a gale keep away from covers and glass until it drops.
          </p>
          {notYet && <p className={styles.warning}>Put them back first; this waits here.</p>}
          <div className={styles.row}>
            <TapButton manner="main" onTap={onEnd}>
              Yes, all of them
            </TapButton>
            <TapButton onTap={() => setNotYet(true)}>Not yet</TapButton>
          </div>
        </>
      )}
      <h2>Back to a bed</h2>
      <div className={styles.row}>
        {pack.beds.map((bed) => (
          <TapButton key={bed.id} manner="quiet" onTap={() => onBed(bed.id)}>
            {bed.name}
          </TapButton>
        ))}
        {walk.acts.length > 0 && (
          <TapButton manner="quiet" onTap={onUndo}>
            Undo the last act
          </TapButton>
        )}
      </div>
    </>
  );
}
