"use client";

import { useState } from "react";
import { DayChoice } from "@/app/_field/day-choice";
import styles from "@/app/_field/field.module.css";
import { KeyPad } from "@/app/_field/key-pad";
import { say } from "@/app/_field/said";
import { Sheet } from "@/app/_field/sheet";
import { StatusLine } from "@/app/_field/status-line";
import { TapButton } from "@/app/_field/tap-button";
import { thisDevice, useDeviceState } from "@/app/_field/use-device";
import { bedViews } from "@/lib/sync/device/bed-view";
import { draftBedFact, draftWithdrawal } from "@/lib/sync/device/fact-draft";
import type { FieldPack } from "@/lib/sync/field-pack";
import { type BedFact, sayBedFact } from "@/lib/words/bed-fact";
import { type Day, sayDay } from "@/lib/words/day";
import { parseWeightG, sayWeightG } from "@/lib/words/weight";
import weighStyles from "./weigh.module.css";
import { weightKeys } from "./weigh-one";

const longestName = 120;

/** What was picked by bed: of anything that is no trial pick. It never enters a comparison of varieties, and says so. */
export function WeighBeds({
  pack,
  by,
  today,
  onTrials,
}: {
  pack: FieldPack;
  by: string;
  today: Day;
  /** Back to the trials; null where there is none to weigh. */
  onTrials: (() => void) | null;
}) {
  const { entries } = useDeviceState();
  const [pickedOn, setPickedOn] = useState(today);
  const [bedId, setBedId] = useState(pack.beds[0].id);
  const [what, setWhat] = useState("");
  const [typed, setTyped] = useState("");
  const [fault, setFault] = useState<string | null>(null);
  const [choosing, setChoosing] = useState(false);
  const harvests = [...bedViews(pack, entries).values()]
    .flatMap((view) => view.inForce)
    .filter((fact) => fact.kind === "harvest");
  const known = [...new Set(harvests.map((fact) => fact.what ?? ""))].filter(Boolean).slice(-6);
  const ofDay = harvests.filter((fact) => fact.seenOn === pickedOn).toReversed();
  const bedName = (id: string) => pack.beds.find((bed) => bed.id === id)?.name ?? id;
  const read = typed.trim() === "" ? null : parseWeightG(typed, "weight");

  const write = async () => {
    const name = what.trim();
    if (name === "") return setFault("Enter what was picked.");
    if (name.length > longestName) return setFault(`What was picked must be ${longestName} letters at most.`);
    if (read === null) return setFault("Enter a weight.");
    if (!read.ok)
      return setFault(`The weight must be ${read.faults[0].wanted}; it is ${read.faults[0].found}.`);
    const draft = draftBedFact({
      bedId,
      kind: "harvest",
      what: name,
      amount: read.value,
      unit: "g",
      seenOn: pickedOn,
      by,
    });
    try {
      await thisDevice().record([draft]);
      setFault(null);
      setTyped("");
      say(`${bedName(bedId)}, ${sayBedFact(draft)}. On this phone.`);
    } catch {
      setFault("Not kept: the phone could not write it down. What was typed is still here; try again.");
    }
  };
  const takeBack = async (fact: BedFact) => {
    const act = { seenOn: fact.seenOn, by, walkaboutId: null, note: "taken back at the scale" };
    try {
      await thisDevice().record([draftWithdrawal(fact, act)]);
      say(`${bedName(fact.bedId)}, ${sayBedFact(fact)}: taken back.`);
    } catch {
      say("Not kept: the phone could not write it down.");
    }
  };

  return (
    <form
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        void write();
      }}
    >
      <h1>Picked by bed</h1>
      <p>
        For the kitchen and the year’s sum. A weight of a whole bed never enters a comparison of varieties.
      </p>
      <TapButton manner="quiet" wide onTap={() => setChoosing(true)}>
        Picked {sayDay(pickedOn)}: change
      </TapButton>
      <StatusLine className={weighStyles.said} />
      <label className={styles.label} htmlFor="picked-bed">
        Bed
      </label>
      <select
        id="picked-bed"
        className={styles.input}
        value={bedId}
        onChange={(event) => setBedId(event.target.value)}
      >
        {pack.beds.map((bed) => (
          <option key={bed.id} value={bed.id}>
            {bed.name}
          </option>
        ))}
      </select>
      <label className={styles.label} htmlFor="picked-what">
        What was picked, such as kale Longstone
      </label>
      {known.length > 0 && (
        <div className={styles.row}>
          {known.map((name) => (
            <TapButton key={name} manner="quiet" onTap={() => setWhat(name)}>
              {name}
            </TapButton>
          ))}
        </div>
      )}
      <input
        id="picked-what"
        className={styles.input}
        value={what}
        onChange={(event) => setWhat(event.target.value)}
      />
      <label className={styles.label} htmlFor="picked-weight">
        Weight in grams, or such as 1,2 kg; the tub taken off
      </label>
      {fault && (
        <p id="picked-fault" className={styles.warning} role="alert">
          {fault}
        </p>
      )}
      <input
        id="picked-weight"
        className={`${styles.input} ${weighStyles.weight}`}
        inputMode="decimal"
        autoComplete="off"
        value={typed}
        aria-invalid={fault !== null}
        aria-describedby={fault ? "picked-fault picked-read" : "picked-read"}
        onChange={(event) => setTyped(event.target.value)}
      />
      <p id="picked-read" className={weighStyles.read}>
        {read?.ok ? `That is ${sayWeightG(read.value)}.` : ""}
      </p>
      <KeyPad
        keys={weightKeys}
        onTyped={setTyped}
        write={
          <TapButton className={styles.keysWrite} manner="main" onTap={write}>
            Write it down
          </TapButton>
        }
      />
      {ofDay.length > 0 && (
        <>
          <h2>Written down for {sayDay(pickedOn)}</h2>
          <ul className={styles.facts}>
            {ofDay.map((fact) => (
              <li key={fact.id} className={weighStyles.head}>
                <span>
                  {bedName(fact.bedId)}, {sayBedFact(fact)}
                </span>
                <TapButton
                  manner="quiet"
                  aria-label={`Take back ${bedName(fact.bedId)}, ${sayBedFact(fact)}`}
                  onTap={() => takeBack(fact)}
                >
                  Take back
                </TapButton>
              </li>
            ))}
          </ul>
        </>
      )}
      {onTrials && (
        <TapButton manner="quiet" wide onTap={onTrials}>
          A trial pick
        </TapButton>
      )}
      {choosing && (
        <Sheet title="Picked on" onBack={() => setChoosing(false)}>
          <DayChoice
            day={pickedOn}
            today={today}
            onDay={(day) => {
              setPickedOn(day);
              setChoosing(false);
            }}
          />
        </Sheet>
      )}
    </form>
  );
}
