"use client";

import { useId, useState } from "react";
import type { Draft } from "@/lib/sync/device/fact-draft";
import { type BedFactUnit, coverStates, type Fact, isBedFact } from "@/lib/words/bed-fact";
import { type Day, parseDay, sayDay } from "@/lib/words/day";
import type { Fault } from "@/lib/words/fault";
import { growthStage, lastGrowthStage, stageFigures } from "@/lib/words/growth-stage";
import { parseNumber } from "@/lib/words/number";
import type { ObservationUnit } from "@/lib/words/observation";
import { parseTenthsC, sayTenthsC } from "@/lib/words/temperature";
import styles from "./field.module.css";
import { say } from "./said";
import { TapButton } from "./tap-button";
import { thisDevice } from "./use-device";

/** A plot or bed that a fact may be moved to. */
export interface Place {
  id: string;
  words: string;
}

export interface CauseWords {
  code: string;
  words: string;
}

/** The fields of a fact that a person may put right. */
interface Written {
  placeId: string;
  amount: number | null;
  cause: string | null;
  /** The name that a fact of a bed carries: what was picked, seen or done. */
  what: string | null;
  seenOn: Day;
  note: string | null;
}

function isStage(fact: Fact): boolean {
  return !isBedFact(fact) && fact.kind === "count" && fact.trait === growthStage;
}

function readAmount(fact: Fact, text: string) {
  if (text.trim() === "") return { ok: true, value: null } as const;
  if (fact.unit === "tenths-c") return parseTenthsC(text, "figure");
  if (isStage(fact))
    return parseNumber(text, { place: "growth stage", whole: true, minimum: 0, maximum: lastGrowthStage });
  return parseNumber(text, { place: "amount", minimum: 0, maximum: 1_000_000 });
}

function sayAmount(fact: Fact): string {
  const { amount, unit } = fact;
  if (amount === null) return "";
  if (isStage(fact)) return stageFigures(amount);
  return unit === "tenths-c" ? sayTenthsC(amount) : String(amount);
}

function amountLabel(fact: Fact, unit: ObservationUnit | BedFactUnit): string {
  if (isStage(fact)) return "Growth stage, BBCH 00 to 99";
  return `Amount in ${unit === "tenths-c" ? "°C" : unit}`;
}

function draftOf(fact: Fact, { placeId, cause, what, ...written }: Written): Draft {
  const {
    id: _id,
    deviceId: _deviceId,
    deviceSequence: _sequence,
    recordedAt: _recordedAt,
    clockSkewS: _skew,
    ...rest
  } = fact;
  if (isBedFact(rest)) return { ...rest, ...written, what, bedId: placeId };
  return { ...rest, ...written, cause, plotId: placeId };
}

/**
 * A fact written anew, with the fields filled with what it said. Either one that home refused, which stays on the phone
 * marked as settled, or a correction: a new fact that replaces the old one, which stays in the history.
 */
export function WriteAnew({
  fact,
  by,
  places,
  causes,
  how,
  onDone,
}: {
  fact: Fact;
  by: string;
  /** The plots, or for a fact of a bed the beds, that it may be of. */
  places: Place[];
  causes: readonly CauseWords[];
  how: "settles" | "corrects";
  onDone: (written: boolean) => void;
}) {
  const ofBed = isBedFact(fact);
  const factCause = ofBed ? null : fact.cause;
  const [placeId, setPlaceId] = useState(ofBed ? fact.bedId : fact.plotId);
  const [amount, setAmount] = useState(sayAmount(fact));
  const [cause, setCause] = useState(factCause);
  const [what, setWhat] = useState(ofBed ? fact.what : null);
  const [day, setDay] = useState(sayDay(fact.seenOn, true));
  const [note, setNote] = useState(fact.note ?? "");
  const [faults, setFaults] = useState<Fault[]>([]);
  const id = useId();
  const place = ofBed ? "bed" : "plot";

  const write = async () => {
    const found: Fault[] = [];
    if (!places.some((known) => known.id === placeId))
      found.push({ place, found: `a ${place} that is not known here`, wanted: `a ${place} from the list` });
    if (what?.trim() === "") found.push({ place: "name", found: "nothing", wanted: "what it is of" });
    if ((fact.kind === "note" || fact.kind === "condition") && note.trim() === "")
      found.push({ place: "note", found: "nothing", wanted: "in words" });
    const seenOn = parseDay(day, "day");
    if (!seenOn.ok) found.push(...seenOn.faults);
    const figure = readAmount(fact, amount);
    if (!figure.ok) found.push(...figure.faults);
    setFaults(found);
    if (found.length > 0 || !seenOn.ok || !figure.ok) return;
    const draft = draftOf(fact, {
      placeId,
      cause,
      what: what === null ? null : what.trim(),
      amount: figure.value,
      seenOn: seenOn.value,
      note: note.trim() === "" ? null : note.trim(),
    });
    try {
      if (how === "settles") await thisDevice().record([draft], { settles: [fact.id] });
      else await thisDevice().record([{ ...draft, by, replaces: fact.id }]);
      say(
        how === "settles" ? "Written anew, on this phone." : "Corrected; the old one stays, struck through.",
      );
      onDone(true);
    } catch {
      setFaults([{ place: "store here", found: "unable to write", wanted: "given some room" }]);
    }
  };

  return (
    <div>
      {faults.length > 0 && (
        <div className={styles.fault} role="alert">
          {faults.map((fault) => (
            <p key={fault.place}>
              The {fault.place} must be {fault.wanted}; it is {fault.found}.
            </p>
          ))}
        </div>
      )}
      <label className={styles.label} htmlFor={`${id}-place`}>
        {ofBed ? "Bed" : "Plot"}
      </label>
      <select
        id={`${id}-place`}
        className={styles.input}
        value={placeId}
        onChange={(event) => setPlaceId(event.target.value)}
      >
        {!places.some((known) => known.id === placeId) && <option value={placeId}>Choose a {place}</option>}
        {places.map((known) => (
          <option key={known.id} value={known.id}>
            {known.words}
          </option>
        ))}
      </select>
      {cause !== null && (
        <>
          <label className={styles.label} htmlFor={`${id}-cause`}>
            Cause
          </label>
          <select
            id={`${id}-cause`}
            className={styles.input}
            value={cause}
            onChange={(event) => setCause(event.target.value)}
          >
            {!causes.some((known) => known.code === cause) && <option value={cause}>{cause}</option>}
            {causes.map((known) => (
              <option key={known.code} value={known.code}>
                {known.words}
              </option>
            ))}
          </select>
        </>
      )}
      {ofBed && what !== null && fact.kind !== "cover" && (
        <>
          <label className={styles.label} htmlFor={`${id}-what`}>
            What
          </label>
          <input
            id={`${id}-what`}
            className={styles.input}
            maxLength={120}
            value={what}
            onChange={(event) => setWhat(event.target.value)}
          />
        </>
      )}
      {ofBed && what !== null && fact.kind === "cover" && (
        <>
          <label className={styles.label} htmlFor={`${id}-cover`}>
            Cover
          </label>
          <select
            id={`${id}-cover`}
            className={styles.input}
            value={what}
            onChange={(event) => setWhat(event.target.value)}
          >
            {coverStates.map((state) => (
              <option key={state} value={state}>
                {state}
              </option>
            ))}
          </select>
        </>
      )}
      {fact.unit !== null && (
        <>
          <label className={styles.label} htmlFor={`${id}-amount`}>
            {amountLabel(fact, fact.unit)}
          </label>
          <input
            id={`${id}-amount`}
            className={styles.input}
            inputMode={fact.unit === "tenths-c" ? "text" : "decimal"}
            value={amount}
            onChange={(event) => setAmount(event.target.value)}
          />
        </>
      )}
      <label className={styles.label} htmlFor={`${id}-day`}>
        Day, such as 14 Mar 2027
      </label>
      <input
        id={`${id}-day`}
        className={styles.input}
        value={day}
        onChange={(event) => setDay(event.target.value)}
      />
      <label className={styles.label} htmlFor={`${id}-note`}>
        Note
      </label>
      <textarea
        id={`${id}-note`}
        className={styles.input}
        maxLength={10_000}
        value={note}
        onChange={(event) => setNote(event.target.value)}
      />
      <div className={styles.row}>
        <TapButton manner="main" onTap={write}>
          Write it down
        </TapButton>
        <TapButton manner="quiet" onTap={() => onDone(false)}>
          Leave it
        </TapButton>
      </div>
    </div>
  );
}
