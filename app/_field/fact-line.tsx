"use client";

import { type ReactNode, useState } from "react";
import { draftWithdrawal } from "@/lib/sync/device/fact-draft";
import { type Fact, isBedFact, sayBedFact } from "@/lib/words/bed-fact";
import { sayDay } from "@/lib/words/day";
import { sayObservation } from "@/lib/words/say-observation";
import styles from "./field.module.css";
import { say } from "./said";
import { TapButton } from "./tap-button";
import { thisDevice } from "./use-device";
import { type CauseWords, type Place, WriteAnew } from "./write-anew";

/**
 * One fact in the history of a plot or bed, with who and when; one that counts can be corrected or withdrawn, and stays on the page,
 * struck through.
 */
export function FactLine({
  fact,
  state,
  by,
  places,
  causes,
  picture,
}: {
  fact: Fact;
  state: "in force" | "corrected" | "withdrawn";
  /** Who puts it right; null while nobody is named, and then nothing can be. */
  by: string | null;
  places: Place[];
  causes: readonly CauseWords[];
  /** The picture that it names, as it is shown here. */
  picture?: ReactNode;
}) {
  const [doing, setDoing] = useState<"correct" | "withdraw" | null>(null);
  const causeWords = (code: string) =>
    causes.find((cause) => cause.code === code)?.words ?? code.replaceAll("-", " ");
  const words = isBedFact(fact) ? sayBedFact(fact) : sayObservation(fact, causeWords);
  const mendable = by !== null && state === "in force" && fact.kind !== "withdrawn";
  const name = `${words}, ${sayDay(fact.seenOn)}`;
  return (
    <li>
      {state === "in force" ? <strong>{words}</strong> : <del>{words}</del>}
      {state !== "in force" && ` (${state})`}
      <br />
      {sayDay(fact.seenOn, true)}, {fact.by || "nobody named"}
      {fact.note && !["note", "condition", "withdrawn"].includes(fact.kind) && `: “${fact.note}”`}
      {picture}
      {mendable && doing === null && (
        <div className={styles.mends}>
          <TapButton manner="quiet" aria-label={`Put right: ${name}`} onTap={() => setDoing("correct")}>
            Put right
          </TapButton>
          <TapButton manner="quiet" aria-label={`Withdraw: ${name}`} onTap={() => setDoing("withdraw")}>
            Withdraw
          </TapButton>
        </div>
      )}
      {mendable && doing === "correct" && (
        <WriteAnew
          fact={fact}
          by={by}
          places={places}
          causes={causes}
          how="corrects"
          onDone={() => setDoing(null)}
        />
      )}
      {mendable && doing === "withdraw" && <Withdraw fact={fact} by={by} onDone={() => setDoing(null)} />}
    </li>
  );
}

function Withdraw({ fact, by, onDone }: { fact: Fact; by: string; onDone: () => void }) {
  const [reason, setReason] = useState("");
  const [fault, setFault] = useState<string | null>(null);
  const id = `why-${fact.id}`;
  const write = async () => {
    const note = reason.trim();
    if (note === "") return setFault("Enter why: it stands in the history.");
    const { seenOn, walkaboutId } = fact;
    try {
      await thisDevice().record([draftWithdrawal(fact, { seenOn, walkaboutId, by, note })]);
      say("Withdrawn; it stays in the history, struck through.");
      onDone();
    } catch {
      setFault("It could not be written down here; try again.");
    }
  };
  return (
    <>
      <label className={styles.label} htmlFor={id}>
        Why is it withdrawn?
      </label>
      {fault && (
        <p id={`${id}-fault`} className={styles.warning} role="alert">
          {fault}
        </p>
      )}
      <input
        id={id}
        className={styles.input}
        maxLength={10_000}
        value={reason}
        aria-invalid={fault !== null}
        aria-describedby={fault ? `${id}-fault` : undefined}
        onChange={(event) => setReason(event.target.value)}
      />
      <div className={styles.row}>
        <TapButton manner="main" onTap={write}>
          Withdraw it
        </TapButton>
        <TapButton manner="quiet" onTap={onDone}>
          Leave it
        </TapButton>
      </div>
    </>
  );
}
