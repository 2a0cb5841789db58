"use client";

import { type FormEvent, useId, useRef, useState } from "react";
import { ErrorSummary } from "@/app/_ui/error-summary";
import type { FieldFault } from "@/app/_ui/field-fault";
import form from "@/app/_ui/form.module.css";
import { Section } from "@/app/_ui/section";
import type { ImportAnswer, ImportAsked, ImportKind } from "@/lib/service/import-asked";
import type { ImportView } from "@/lib/service/import-view";
import type { TableLook } from "@/lib/service/look-at-files";
import type { Fault } from "@/lib/words/fault";
import { ChooseFiles } from "./choose-files";
import styles from "./import.module.css";
import { ImportResult } from "./import-result";
import { MapColumns } from "./map-columns";
import { placeInFile } from "./place-in-file";
import { lookAt, runSet, sendFiles, stopSet } from "./send-import";
import { TrialDetails } from "./trial-details";

const blankAsked: ImportAsked = {
  kind: "observations",
  trialId: null,
  mapping: {},
  dayOrder: null,
  skipBlank: false,
  trial: { question: "", crop: "", check: "" },
};

type OpenDate = Extract<ImportAnswer, { state: "ambiguous" }>;
type Work = { set: string; files: string; table: TableLook | null };

const typedFields = /^(question|crop|check)$/;

/** Faults of what was asked for, and not of a line of a file: they stand at their fields. */
function fieldFaultsOf(faults: readonly Fault[]): FieldFault[] {
  return faults.flatMap(({ place, found, wanted }) => {
    if (placeInFile(place)) return [];
    const ask = typedFields.test(place) ? "Enter" : "Choose";
    const words = found === "nothing" ? `${ask} ${wanted}.` : `Found ${found}; wanted ${wanted}.`;
    return [{ at: `import-${place}`, words }];
  });
}

function faultsOf(answer: ImportAnswer | null): FieldFault[] {
  if (answer?.state === "faulty") return fieldFaultsOf(answer.faults);
  if (answer?.state !== "ambiguous") return [];
  return [{ at: "import-dayOrder", words: `Say which day ${answer.example} is in this file.` }];
}

/** The whole way of an import: what it is, how it is to be read, trying it, taking it in. */
export function ImportDesk({
  hasGarden,
  trials,
  megabytes,
}: Pick<ImportView, "trials" | "megabytes"> & { hasGarden: boolean }) {
  const [asked, setAsked] = useState<ImportAsked>(blankAsked);
  const [work, setWork] = useState<Work | null>(null);
  const [answer, setAnswer] = useState<ImportAnswer | null>(null);
  const [part, setPart] = useState<number | null>(null);
  const [question, setQuestion] = useState<OpenDate | null>(null);
  const [turn, setTurn] = useState(0);
  const stop = useRef(() => {});
  const progress = useId();

  const isBusy = part !== null;
  const faults = faultsOf(answer);

  function say(next: ImportAnswer | null) {
    if (next?.state === "ambiguous") setQuestion(next);
    setAnswer(next);
    setPart(null);
    setTurn((before) => before + 1);
  }

  async function choose(kind: ImportKind, trialId: string | null, files: File[]) {
    setPart(0);
    setAnswer(null);
    const sending = new AbortController();
    stop.current = () => sending.abort();
    const sent = await sendFiles(files, sending.signal);
    if (sending.signal.aborted) return say({ state: "stopped" });
    if ("faults" in sent) return say({ state: "faulty", faults: sent.faults, count: sent.faults.length });
    const seen = await lookAt(sent.set, kind);
    if ("faults" in seen) return say({ state: "faulty", faults: seen.faults, count: seen.faults.length });
    const { table } = seen;
    // A mended file of the same columns keeps what was said of them.
    const isMended = asked.kind === kind && table?.columns.join("\n") === work?.table?.columns.join("\n");
    const next: ImportAsked = {
      ...(isMended && work
        ? asked
        : { ...blankAsked, ...(table && { mapping: table.mapping, skipBlank: table.skipBlank }) }),
      kind,
      trialId,
    };
    const made = { set: sent.set, files: files.map((file) => file.name).join(", "), table };
    setAsked(next);
    setWork(made);
    if (!isMended) setQuestion(null);
    if (table && !isMended) return say(null);
    await run(made.set, next, false);
  }

  async function run(set: string, next: ImportAsked, isWriting: boolean) {
    stop.current = () => void stopSet(set);
    setPart(0);
    say(await runSet({ set, asked: next, isWriting }, setPart));
  }

  function attempt(event: FormEvent) {
    event.preventDefault();
    if (work && !isBusy) void run(work.set, asked, false);
  }

  return (
    <>
      <ErrorSummary faults={faults} turn={turn} />
      <Section title="What comes in" id="what">
        <ChooseFiles
          hasGarden={hasGarden}
          trials={trials}
          megabytes={megabytes}
          faults={faults}
          isBusy={isBusy}
          onChoose={choose}
        />
      </Section>
      {work?.table && answer?.state !== "done" && (
        <Section title="Its columns" id="columns">
          <MapColumns
            table={work.table}
            asked={asked}
            faults={faults}
            question={question}
            onChange={setAsked}
            onTry={attempt}
          />
        </Section>
      )}
      {work && !work.table && asked.kind === "trial" && faults.length > 0 && (
        <Section title="What the files leave open" id="open">
          <TrialDetails asked={asked} faults={faults} onChange={setAsked} onTry={attempt} />
        </Section>
      )}
      <div aria-live="polite">
        {isBusy && (
          <Section title="Reading" id="reading">
            <p className={styles.progress}>
              <label htmlFor={progress}>Reading {work?.files ?? "the file"}</label>
              <progress id={progress} value={part} max={1} />
              <button type="button" className={form.button} onClick={() => stop.current()}>
                Stop
              </button>
            </p>
          </Section>
        )}
        {answer && !isBusy && (
          <ImportResult
            answer={answer}
            asked={asked}
            files={work?.files ?? ""}
            onImport={() => work && run(work.set, asked, true)}
          />
        )}
      </div>
    </>
  );
}
