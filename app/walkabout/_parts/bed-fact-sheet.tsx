"use client";

import { useState } from "react";
import styles from "@/app/_field/field.module.css";
import { KeyPad } from "@/app/_field/key-pad";
import { sayPackCause } from "@/app/_field/say-fact";
import { Sheet } from "@/app/_field/sheet";
import { TapButton } from "@/app/_field/tap-button";
import { coverDraft, lowestDraft, namedDraft, treatmentDraft, wordsDraft } from "@/lib/sync/device/bed-acts";
import type { BedView } from "@/lib/sync/device/bed-view";
import { type BedDraft, draftWithdrawal } from "@/lib/sync/device/fact-draft";
import type { Looking } from "@/lib/sync/device/walk-acts";
import type { FieldPack } from "@/lib/sync/field-pack";
import { type CoverState, sayBedFact, treatments } from "@/lib/words/bed-fact";
import { sayDay } from "@/lib/words/day";
import { parseTenthsC, sayTenthsC } from "@/lib/words/temperature";
import type { Perform } from "./act";
import bedStyles from "./bed.module.css";
import { BedHistoryStep } from "./history-step";
import { NoteStep } from "./note-step";

/** What a sheet about a bed opens with. */
export type BedMatter = "cover" | "lowest" | "done" | "pest" | "ready" | "note" | "history";

/** Causes that are not seen walking about: no pest. */
const noPests = [
  "cold",
  "rot",
  "drought",
  "waterlogging",
  "wind",
  "did-not-take",
  "trodden",
  "no-sign",
  "unknown",
];

const covers: { state: CoverState; words: string }[] = [
  { state: "shut", words: "On and shut" },
  { state: "open", words: "On, open for air" },
  { state: "off", words: "Off the bed" },
];

const titles: Record<BedMatter, string> = {
  cover: "Cover",
  lowest: "Lowest since the last look",
  done: "Done to the bed",
  pest: "Pest seen",
  ready: "Ready to pick",
  note: "Condition or note",
  history: "History",
};

/** One matter of a bed as a whole; each answer is one tap. */
export function BedFactSheet({
  matter,
  pack,
  view,
  looking,
  perform,
  onBack,
}: {
  matter: BedMatter;
  pack: FieldPack;
  view: BedView;
  looking: Looking;
  perform: Perform;
  onBack: () => void;
}) {
  const [step, setStep] = useState<BedMatter>(matter);
  const [part, setPart] = useState(false);
  const { bed } = view;
  const tell = async (draft: BedDraft) => {
    if (await perform({ drafts: [draft], words: `${bed.name}: ${sayBedFact(draft)}.` })) onBack();
  };
  const thisRound = view.inForce.filter((fact) => fact.walkaboutId === looking.walkaboutId);
  return (
    <Sheet title={`${bed.name}: ${titles[step].toLowerCase()}`} onBack={onBack}>
      {step === "cover" && (
        <div className={styles.stack}>
          {bed.covers.length > 0 && <p>Over it: {bed.covers.join(", ")}.</p>}
          {covers.map(({ state, words }) => (
            <TapButton
              key={state}
              wide
              aria-current={view.cover === state ? "true" : undefined}
              onTap={() => tell(coverDraft(looking, bed.id, state))}
            >
              {words}
            </TapButton>
          ))}
        </div>
      )}
      {step === "lowest" && (
        <LowestStep
          before={
            view.lowest ? `${sayTenthsC(view.lowest.amount ?? 0)}, ${sayDay(view.lowest.seenOn)}` : null
          }
          onTell={(tenthsC) => tell(lowestDraft(looking, bed.id, tenthsC))}
        />
      )}
      {step === "done" && (
        <>
          <div className={bedStyles.grid}>
            {treatments.map((what) => (
              <TapButton
                key={what}
                onTap={() => tell(treatmentDraft(looking, bed.id, what, part ? "part" : "whole"))}
              >
                {what}
              </TapButton>
            ))}
          </div>
          <TapButton wide manner="quiet" aria-pressed={part} onTap={() => setPart(!part)}>
            {part ? "Part of the bed only: yes" : "Part of the bed only: no"}
          </TapButton>
          <h3>Seen</h3>
          <div className={styles.row}>
            <TapButton onTap={() => setStep("pest")}>Pest</TapButton>
            <TapButton onTap={() => setStep("ready")}>Ready to pick</TapButton>
            <TapButton onTap={() => setStep("note")}>Condition or note</TapButton>
          </div>
          <TapButton wide manner="quiet" onTap={() => setStep("history")}>
            History, and putting right
          </TapButton>
          {thisRound.length > 0 && (
            <>
              <h3>Said on this round</h3>
              <ul className={styles.facts}>
                {thisRound.map((fact) => (
                  <li key={fact.id} className={bedStyles.head}>
                    <span>{sayBedFact(fact)}</span>
                    <TapButton
                      manner="quiet"
                      aria-label={`Take back: ${sayBedFact(fact)}`}
                      onTap={() =>
                        perform({
                          drafts: [
                            draftWithdrawal(fact, { ...looking, note: "taken back where it was recorded" }),
                          ],
                          takesBack: [fact.id],
                          words: `${bed.name}: taken back, ${sayBedFact(fact)}.`,
                        })
                      }
                    >
                      Take back
                    </TapButton>
                  </li>
                ))}
              </ul>
            </>
          )}
        </>
      )}
      {step === "pest" && (
        <NameStep
          label="Another, by its name"
          known={pack.causes
            .filter((cause) => !noPests.includes(cause.code))
            .map((cause) => sayPackCause(pack, cause.code))}
          onName={(what) => tell(namedDraft(looking, bed.id, "pest", what))}
        />
      )}
      {step === "ready" && (
        <NameStep
          label="Another crop, by its name"
          known={cropsOf(pack, view)}
          onName={(what) => tell(namedDraft(looking, bed.id, "ready", what))}
        />
      )}
      {step === "history" && <BedHistoryStep pack={pack} bedId={bed.id} by={looking.by} />}
      {step === "note" && (
        <NoteStep onNote={(note) => tell(wordsDraft(looking, bed.id, "condition", note))} />
      )}
    </Sheet>
  );
}

/** What may stand in a bed: the crops of its trials, and what was ready or picked there lately. */
function cropsOf(pack: FieldPack, { bed, inForce }: BedView): string[] {
  const ofTrials = pack.trials
    .filter((trial) => bed.plots.some((plot) => plot.trialId === trial.id))
    .map((trial) => trial.crop);
  const lately = inForce.flatMap((fact) =>
    (fact.kind === "ready" || fact.kind === "harvest") && fact.what !== null ? [fact.what] : [],
  );
  return [...new Set([...ofTrials, ...lately])];
}

const temperatureKeys = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "−", "0", ","];

function LowestStep({ before, onTell }: { before: string | null; onTell: (tenthsC: number) => void }) {
  const [typed, setTyped] = useState("");
  const [fault, setFault] = useState<string | null>(null);
  const read = typed.trim() === "" ? null : parseTenthsC(typed, "temperature");
  const write = () => {
    if (read === null) setFault("Enter a temperature, or go back: then it stays as before.");
    else if (!read.ok)
      setFault(`The temperature must be ${read.faults[0].wanted}; it is ${read.faults[0].found}.`);
    else onTell(read.value);
  };
  return (
    <form
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        write();
      }}
    >
      <p>{before === null ? "None was told yet." : `Told last: ${before}.`}</p>
      <label className={styles.label} htmlFor="lowest">
        Lowest in °C, such as −3,5
      </label>
      {fault && (
        <p id="lowest-fault" className={styles.warning} role="alert">
          {fault}
        </p>
      )}
      <input
        id="lowest"
        className={styles.input}
        autoComplete="off"
        inputMode="text"
        value={typed}
        aria-invalid={fault !== null}
        aria-describedby={fault ? "lowest-fault lowest-read" : "lowest-read"}
        onChange={(event) => setTyped(event.target.value)}
      />
      <p id="lowest-read" className={bedStyles.read}>
        {read?.ok ? `That is ${sayTenthsC(read.value)}.` : ""}
      </p>
      <KeyPad
        keys={temperatureKeys}
        onTyped={setTyped}
        write={
          <TapButton className={styles.keysWrite} manner="main" onTap={write}>
            Write it down
          </TapButton>
        }
      />
    </form>
  );
}

function NameStep({
  label,
  known,
  onName,
}: {
  label: string;
  known: string[];
  onName: (name: string) => void;
}) {
  const [typed, setTyped] = useState("");
  const [fault, setFault] = useState<string | null>(null);
  const write = () => {
    const name = typed.trim();
    if (name === "") setFault("Enter a name.");
    else if (name.length > 120) setFault("The name must be 120 letters at most.");
    else onName(name);
  };
  return (
    <form
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        write();
      }}
    >
      <div className={bedStyles.grid}>
        {known.map((name) => (
          <TapButton key={name} onTap={() => onName(name)}>
            {name}
          </TapButton>
        ))}
      </div>
      <label className={styles.label} htmlFor="bed-name">
        {label}
      </label>
      {fault && (
        <p id="bed-name-fault" className={styles.warning} role="alert">
          {fault}
        </p>
      )}
      <input
        id="bed-name"
        className={styles.input}
        value={typed}
        aria-invalid={fault !== null}
        aria-describedby={fault ? "bed-name-fault" : undefined}
        onChange={(event) => setTyped(event.target.value)}
      />
      <div className={styles.row}>
        <TapButton manner="main" onTap={write}>
          Write it down
        </TapButton>
      </div>
    </form>
  );
}
