"use client";

import { useState } from "react";
import { DayChoice } from "@/app/_field/day-choice";
import styles from "@/app/_field/field.module.css";
import { Sheet } from "@/app/_field/sheet";
import { TapButton } from "@/app/_field/tap-button";
import type { Walk } from "@/lib/sync/device/device-store";
import type { FieldPack } from "@/lib/sync/field-pack";
import { addDays, type Day, sayDay } from "@/lib/words/day";

const closedWords = { looked: "looked at", "not-seen": "could not look", "left out": "left out" } as const;

/** The beds of a round and what became of each; from here a round ends, or one on paper is entered. */
export function BedsSheet({
  pack,
  walk,
  bedId,
  today,
  onBed,
  onEnd,
  onPaper,
  onByPlot,
  onBack,
}: {
  pack: FieldPack;
  walk: Walk;
  bedId: string;
  today: Day;
  onBed: (bedId: string) => void;
  onEnd: () => void;
  onPaper: (day: Day) => void;
  /** Asks for each plot in turn from here on; left out where the bed has none. */
  onByPlot?: () => void;
  onBack: () => void;
}) {
  const [paper, setPaper] = useState(false);
  if (paper)
    return (
      <Sheet title="Enter from paper" onBack={onBack}>
        <p>
          A round begins for the day on the sheet. The beds are drawn as they stood then, and what was
          recorded of this round so far is kept.
        </p>
        <DayChoice
          day={addDays(today, -1)}
          today={today}
          withToday={false}
          onDay={(day) => {
            onBack();
            onPaper(day);
          }}
        />
      </Sheet>
    );
  return (
    <Sheet title="Beds of this round" onBack={onBack}>
      {onByPlot && (
        <TapButton
          wide
          onTap={() => {
            onBack();
            onByPlot();
          }}
        >
          Go plot by plot
        </TapButton>
      )}
      <ul className={styles.stack}>
        {pack.beds.map((other) => (
          <li key={other.id}>
            <TapButton
              wide
              aria-current={other.id === bedId ? "true" : undefined}
              onTap={() => {
                onBack();
                onBed(other.id);
              }}
            >
              {other.name}: {closedWords[walk.closed[other.id]] ?? "not yet"}
              {other.id === bedId && ", on the screen"}
            </TapButton>
          </li>
        ))}
      </ul>
      <div className={styles.row}>
        <TapButton
          manner="quiet"
          onTap={() => {
            onBack();
            onEnd();
          }}
        >
          End the round here
        </TapButton>
        <TapButton manner="quiet" onTap={() => setPaper(true)}>
          Enter from paper
        </TapButton>
      </div>
      <p>
        {walk.paperOn
          ? `This round is of ${sayDay(walk.paperOn, true)}, from paper.`
          : `Today is ${sayDay(today, true)} at the garden.`}
      </p>
    </Sheet>
  );
}
