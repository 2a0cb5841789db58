"use client";

import { useId, useState } from "react";
import { addDays, type Day, parseDay, sayDay } from "@/lib/words/day";
import styles from "./field.module.css";
import { TapButton } from "./tap-button";

/** Today, yesterday or an earlier day that is typed. */
export function DayChoice({
  day,
  today,
  onDay,
  withToday = true,
}: {
  day: Day;
  today: Day;
  onDay: (day: Day) => void;
  withToday?: boolean;
}) {
  const [typed, setTyped] = useState(sayDay(day, true));
  const [fault, setFault] = useState<string | null>(null);
  const id = useId();
  const yesterday = addDays(today, -1);
  const readDay = () => {
    const read = parseDay(typed, "day");
    if (!read.ok) setFault(`The day must be ${read.faults[0].wanted}; it is ${read.faults[0].found}.`);
    else if (read.value > today) setFault("The day must be today or earlier.");
    else onDay(read.value);
  };
  return (
    <>
      <div className={styles.row}>
        {withToday && <TapButton onTap={() => onDay(today)}>Today</TapButton>}
        <TapButton onTap={() => onDay(yesterday)}>Yesterday, {sayDay(yesterday)}</TapButton>
      </div>
      <label className={styles.label} htmlFor={id}>
        Another day, such as 14 Mar 2027
      </label>
      {fault && (
        <p id={`${id}-fault`} className={styles.warning} role="alert">
          {fault}
        </p>
      )}
      <input
        id={id}
        className={styles.input}
        value={typed}
        aria-invalid={fault !== null}
        aria-describedby={fault ? `${id}-fault` : undefined}
        onChange={(event) => setTyped(event.target.value)}
      />
      <div className={styles.row}>
        <TapButton onTap={readDay}>Use that day</TapButton>
      </div>
    </>
  );
}
