"use client";

import { useEffect, useRef, useState } from "react";
import { CountStepper } from "@/app/_field/count-stepper";
import styles from "@/app/_field/field.module.css";
import { KeyPad } from "@/app/_field/key-pad";
import { TapButton } from "@/app/_field/tap-button";
import type { PlotView } from "@/lib/sync/device/plot-view";
import type { Picked } from "@/lib/sync/device/weigh-acts";
import { parseWeightG, sayWeightG } from "@/lib/words/weight";
import weighStyles from "./weigh.module.css";

export const weightKeys = ["1", "2", "3", "4", "5", "6", "7", "8", "9", ",", "0", "kg"];

/** One plot at the scale: its weight typed or by big keys; *nothing to pick* and *not picked* are two answers. */
export function WeighOne({
  view,
  whole,
  before,
  progress,
  onWrite,
  onBack,
}: {
  view: PlotView;
  whole: boolean;
  before: Picked | null;
  progress: string;
  onWrite: (picked: Picked) => Promise<boolean>;
  onBack: (() => void) | null;
}) {
  const { plot } = view;
  const [typed, setTyped] = useState(before?.weightG ? String(before.weightG) : "");
  const [plants, setPlants] = useState(before?.plants ?? 0);
  const [fault, setFault] = useState<string | null>(null);
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => {
    // At a desk the next weight is typed straight away; on a phone its keyboard would cover the big keys.
    if (matchMedia("(pointer: fine)").matches) field.current?.focus({ preventScroll: true });
  }, []);

  const read = typed.trim() === "" ? null : parseWeightG(typed, "weight");
  const write = () => {
    if (read === null) return setFault("Enter a weight, or say that there was nothing to pick.");
    if (!read.ok)
      return setFault(`The weight must be ${read.faults[0].wanted}; it is ${read.faults[0].found}.`);
    if (whole && plants === 0) return setFault("Enter how many were taken.");
    setFault(null);
    void onWrite({ weightG: read.value, plants: whole ? plants : null });
  };
  const faultId = "weight-fault";
  return (
    <form
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        write();
      }}
    >
      <div className={weighStyles.head}>
        <h1>
          {plot.code} {plot.variety}
        </h1>
        <span>{progress}</span>
      </div>
      {whole && (
        <CountStepper
          label={`How many were taken, of ${view.standing} standing`}
          unit="plant"
          count={plants}
          onCount={setPlants}
        />
      )}
      <label className={styles.label} htmlFor="weight">
        Weight in grams, or such as 1,2 kg
      </label>
      {fault && (
        <p id={faultId} className={styles.warning} role="alert">
          {fault}
        </p>
      )}
      <input
        ref={field}
        id="weight"
        className={`${styles.input} ${weighStyles.weight}`}
        inputMode="decimal"
        autoComplete="off"
        value={typed}
        aria-invalid={fault !== null}
        aria-describedby={fault ? `${faultId} weight-read` : "weight-read"}
        onChange={(event) => setTyped(event.target.value)}
      />
      <p id="weight-read" className={weighStyles.read}>
        {read?.ok ? `That is ${sayWeightG(read.value)}.` : ""}
      </p>
      <KeyPad
        keys={weightKeys}
        onTyped={setTyped}
        write={
          <TapButton className={styles.keysWrite} manner="main" onTap={write}>
            {before === null ? "Write it down" : "Put it right"}
          </TapButton>
        }
      />
      <div className={styles.row}>
        <TapButton onTap={() => onWrite({ weightG: 0, plants: whole ? 0 : null })}>Nothing to pick</TapButton>
        <TapButton onTap={() => onWrite({ weightG: null, plants: null })}>Not picked</TapButton>
      </div>
      {onBack && (
        <TapButton manner="quiet" wide onTap={onBack}>
          Leave it as it was
        </TapButton>
      )}
    </form>
  );
}
