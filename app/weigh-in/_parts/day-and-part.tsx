"use client";

import { DayChoice } from "@/app/_field/day-choice";
import styles from "@/app/_field/field.module.css";
import { Sheet } from "@/app/_field/sheet";
import { TapButton } from "@/app/_field/tap-button";
import type { WeighIn } from "@/lib/sync/device/device-store";
import { takesPlant } from "@/lib/sync/device/weigh-acts";
import type { Day } from "@/lib/words/day";
import { type HarvestPart, harvestParts } from "@/lib/words/harvest-part";

/** On which day, and what: changed for the plots that follow; what was written down stays as it is. */
export function DayAndPart({
  weighIn,
  today,
  onChange,
  onBack,
}: {
  weighIn: WeighIn;
  today: Day;
  onChange: (changed: WeighIn) => void;
  onBack: () => void;
}) {
  const take = (part: HarvestPart) => onChange({ ...weighIn, part, whole: takesPlant(part) });
  return (
    <Sheet title="Day and part" onBack={onBack}>
      <h3>Picked on</h3>
      <DayChoice
        day={weighIn.pickedOn}
        today={today}
        onDay={(pickedOn) => onChange({ ...weighIn, pickedOn })}
      />
      <h3>What is picked</h3>
      <div className={styles.row}>
        {harvestParts.map((part) => (
          <TapButton
            key={part}
            manner={part === weighIn.part ? "main" : "plain"}
            aria-current={part === weighIn.part ? "true" : undefined}
            onTap={() => take(part)}
          >
            {part}
          </TapButton>
        ))}
      </div>
      <h3>Plants</h3>
      <div className={styles.row}>
        <TapButton
          manner={weighIn.whole ? "main" : "plain"}
          aria-current={weighIn.whole ? "true" : undefined}
          onTap={() => onChange({ ...weighIn, whole: true })}
        >
          Cut or pulled whole
        </TapButton>
        <TapButton
          manner={weighIn.whole ? "plain" : "main"}
          aria-current={weighIn.whole ? undefined : "true"}
          onTap={() => onChange({ ...weighIn, whole: false })}
        >
          Picked from, they stand on
        </TapButton>
      </div>
    </Sheet>
  );
}
