"use client";

import { useState } from "react";
import styles from "@/app/_field/field.module.css";
import { Sheet } from "@/app/_field/sheet";
import { TapButton } from "@/app/_field/tap-button";
import type { WeighIn } from "@/lib/sync/device/device-store";
import { takesPlant } from "@/lib/sync/device/weigh-acts";
import { addDays, type Day, parseDay, sayDay } from "@/lib/words/day";
import { type HarvestPart, harvestParts } from "@/lib/words/observation";

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
  const [typed, setTyped] = useState(sayDay(weighIn.pickedOn, true));
  const [fault, setFault] = useState<string | null>(null);
  const yesterday = addDays(today, -1);
  const onDay = (pickedOn: Day) => onChange({ ...weighIn, pickedOn });
  const readDay = () => {
    const day = parseDay(typed, "day");
    if (!day.ok) setFault(`The day must be ${day.faults[0].wanted}; it is ${day.faults[0].found}.`);
    else if (day.value > today) setFault("The day must be today or earlier.");
    else onDay(day.value);
  };
  const take = (part: HarvestPart) => onChange({ ...weighIn, part, whole: takesPlant(part) });
  return (
    <Sheet title="Day and part" onBack={onBack}>
      <h3>Picked on</h3>
      <div className={styles.row}>
        <TapButton onTap={() => onDay(today)}>Today</TapButton>
        <TapButton onTap={() => onDay(yesterday)}>Yesterday, {sayDay(yesterday)}</TapButton>
      </div>
      <label className={styles.label} htmlFor="picked-on">
        Another day, such as 14 Mar 2027
      </label>
      {fault && (
        <p id="picked-on-fault" className={styles.warning} role="alert">
          {fault}
        </p>
      )}
      <input
        id="picked-on"
        className={styles.input}
        value={typed}
        aria-invalid={fault !== null}
        aria-describedby={fault ? "picked-on-fault" : undefined}
        onChange={(event) => setTyped(event.target.value)}
      />
      <div className={styles.row}>
        <TapButton onTap={readDay}>Use that day</TapButton>
      </div>
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
