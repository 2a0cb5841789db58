"use client";

import Link from "next/link";
import { useEffect, useRef } from "react";
import { DataTable } from "@/app/_ui/data-table";
import form from "@/app/_ui/form.module.css";
import { Section } from "@/app/_ui/section";
import type { ImportAnswer, ImportAsked } from "@/lib/service/import-asked";
import styles from "./import.module.css";
import { placeInFile } from "./place-in-file";

type Tried = Extract<ImportAnswer, { state: "ready" | "done" }>;

const rowWords: Record<ImportAsked["kind"], { one: string; many: string }> = {
  observations: { one: "observation", many: "observations" },
  weather: { one: "day of weather", many: "days of weather" },
  varieties: { one: "variety", many: "varieties" },
  trial: { one: "row", many: "rows" },
  garden: { one: "row", many: "rows" },
  unsent: { one: "fact", many: "facts" },
};

function counted(count: number, { one, many }: { one: string; many: string }): string {
  return `${count === 0 ? "no" : count.toLocaleString("en-GB")} ${count === 1 ? one : many}`;
}

/** What came of trying or taking in; it takes the cursor, since it is what the person waited for. */
export function ImportResult({
  answer,
  asked,
  files,
  onImport,
}: {
  answer: ImportAnswer;
  asked: ImportAsked;
  files: string;
  onImport(): void;
}) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (answer.state !== "ambiguous") box.current?.focus();
  }, [answer]);
  return (
    <div ref={box} tabIndex={-1} className={styles.result}>
      {answer.state === "faulty" && <Faults faults={answer.faults} count={answer.count} />}
      {answer.state === "ready" && (
        <Section title="It can be taken in" id="ready">
          <Told answer={answer} asked={asked} />
          {answer.added > 0 ? (
            <div className={form.buttons}>
              <button type="button" className={`${form.button} ${form.main}`} onClick={onImport}>
                Import {counted(answer.added, rowWords[asked.kind])}
              </button>
            </div>
          ) : (
            <p>Everything in {files} is here already: there is nothing to import.</p>
          )}
        </Section>
      )}
      {answer.state === "done" && (
        <Section title="It is taken in" id="done">
          <Told answer={answer} asked={asked} />
          {asked.kind === "garden" && (
            <p>
              <Link href="/">See what is on today</Link>
            </p>
          )}
          {answer.trialId && (
            <p>
              <Link href={`/trials/${answer.trialId}/log`}>See it on the trial’s log</Link>
            </p>
          )}
        </Section>
      )}
      {answer.state === "stopped" && (
        <Section title="Stopped" id="stopped">
          <p>Nothing was taken in.</p>
        </Section>
      )}
    </div>
  );
}

function Told({ answer, asked }: { answer: Tried; asked: ImportAsked }) {
  const { rows, added, already, said, replies, state } = answer;
  const words = rowWords[asked.kind];
  const verb = state === "done" ? "taken in" : "new";
  return (
    <>
      <p>
        {counted(rows, words)} read: {added.toLocaleString("en-GB")} {verb}, {already.toLocaleString("en-GB")}{" "}
        here already
        {added + already < rows && `, ${(rows - added - already).toLocaleString("en-GB")} not taken in`}.
      </p>
      {said.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {replies.length > 0 && (
        <DataTable
          caption="Each fact"
          columns={[
            { heading: "What" },
            { heading: "Seen on", whole: true },
            { heading: "By" },
            ...(state === "done" ? [{ heading: "Answer" }] : []),
          ]}
          rows={replies.map(({ what, seenOn, by, answer: said }) => [
            what,
            seenOn,
            by,
            ...(state === "done" ? [said] : []),
          ])}
        />
      )}
    </>
  );
}

function Faults({
  faults,
  count,
}: {
  faults: Extract<ImportAnswer, { state: "faulty" }>["faults"];
  count: number;
}) {
  const inFiles = faults.flatMap(({ place, found, wanted }) => {
    const at = placeInFile(place);
    return at ? [[at.file, at.line, at.column, found, wanted]] : [];
  });
  if (inFiles.length === 0) return null;
  const names = new Set(inFiles.map(([file]) => file));
  return (
    <Section
      title={
        count === 1
          ? "One thing to mend in the file"
          : `${count.toLocaleString("en-GB")} things to mend in the file`
      }
      id="faults"
    >
      <p>
        Nothing was taken in. Mend the file, save it and choose it again above: what was said of its columns
        stays.
        {count > inFiles.length && ` The first ${inFiles.length} are listed.`}
      </p>
      <DataTable
        caption="What to mend"
        captionHidden
        columns={[
          ...(names.size > 1 ? [{ heading: "File" }] : []),
          { heading: "Line", numeric: true },
          { heading: "Column" },
          { heading: "Found" },
          { heading: "Wanted" },
        ]}
        rows={inFiles.map((cells) => (names.size > 1 ? cells : cells.slice(1)))}
      />
    </Section>
  );
}
