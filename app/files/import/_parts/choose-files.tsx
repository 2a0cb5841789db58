"use client";

import { type FormEvent, useState } from "react";
import { SendButton } from "@/app/_ui/button";
import { faultAt } from "@/app/_ui/field";
import type { FieldFault } from "@/app/_ui/field-fault";
import form from "@/app/_ui/form.module.css";
import type { ImportKind } from "@/lib/service/import-asked";
import type { ImportView } from "@/lib/service/import-view";
import { sayDay } from "@/lib/words/day";

const kinds: { kind: ImportKind; words: string; more: string }[] = [
  {
    kind: "observations",
    words: "Observations of a trial",
    more: "counts, losses, harvests, scores: a row each",
  },
  { kind: "weather", words: "Weather", more: "the lowest and highest of a day" },
  { kind: "varieties", words: "Varieties", more: "and what their packets claim" },
  { kind: "trial", words: "A whole trial", more: "its zip, or its tables chosen together" },
  { kind: "garden", words: "A whole garden", more: "the zip of all its records" },
  { kind: "unsent", words: "A phone’s unsent facts", more: "the file that the phone saved" },
];

const fileLabels: Partial<Record<ImportKind, string>> = { trial: "The zip, or its files", garden: "The zip" };
const fileHints: Partial<Record<ImportKind, string>> = {
  trial: "plots.csv, observations.csv and what else belongs to them",
  garden: "As it was downloaded under Files: the whole garden",
  unsent: "Saved by the phone from the list of what waits",
};

/** What is to come in, and from which files. */
export function ChooseFiles({
  hasGarden,
  trials,
  megabytes,
  faults,
  isBusy,
  onChoose,
}: Pick<ImportView, "trials" | "megabytes"> & {
  hasGarden: boolean;
  faults: readonly FieldFault[];
  isBusy: boolean;
  onChoose(kind: ImportKind, trialId: string | null, files: File[]): void;
}) {
  const [kind, setKind] = useState<ImportKind>(hasGarden ? "observations" : "garden");
  const [own, setOwn] = useState<string | null>(null);

  function send(event: FormEvent<HTMLFormElement>) {
    event.preventDefault();
    if (isBusy) return;
    const data = new FormData(event.currentTarget);
    const files = data
      .getAll("file")
      .filter((file): file is File => file instanceof File && file.name !== "");
    const size = files.reduce((sum, file) => sum + file.size, 0);
    if (files.length === 0) return setOwn("Choose the file first.");
    if (size > megabytes * 1024 * 1024)
      return setOwn(`Together they have more than ${megabytes} MB: part the file in two.`);
    setOwn(null);
    onChoose(kind, kind === "observations" ? String(data.get("trial") ?? "") : null, files);
  }

  // A garden comes in where there is none, and everything else where there is one.
  const offered = kinds.filter((choice) => (choice.kind === "garden") !== hasGarden);
  const fileFault = own ?? faultAt(faults, "import-file");
  const trialFault = faultAt(faults, "import-trialId");
  const isMany = kind === "trial";
  return (
    <form onSubmit={send} noValidate>
      <fieldset className={form.group}>
        <legend>What the file holds</legend>
        <div className={form.tiles}>
          {offered.map((choice) => (
            <label key={choice.kind} className={form.tile}>
              <input
                type="radio"
                name="kind"
                checked={choice.kind === kind}
                onChange={() => setKind(choice.kind)}
              />
              <span>
                {choice.words}
                <span className={form.tileMore}>{choice.more}</span>
              </span>
            </label>
          ))}
        </div>
      </fieldset>
      {kind === "observations" && (
        <div className={`${form.field} ${trialFault ? form.faulty : ""}`}>
          <label className={form.label} htmlFor="import-trialId">
            The trial that they belong to
          </label>
          {trialFault && (
            <span className={form.fault} id="import-trialId-fault">
              {trialFault}
            </span>
          )}
          <select
            id="import-trialId"
            name="trial"
            className={form.input}
            aria-describedby={trialFault ? "import-trialId-fault" : undefined}
          >
            {trials.length === 0 && <option value="">There is no trial yet</option>}
            {trials.map(({ id, question, plantedOn }) => (
              <option key={id} value={id}>
                {question} Planted {sayDay(plantedOn, true)}.
              </option>
            ))}
          </select>
        </div>
      )}
      <div className={`${form.field} ${fileFault ? form.faulty : ""}`}>
        <label className={form.label} htmlFor="import-file">
          {fileLabels[kind] ?? "The file"}
        </label>
        <span className={form.hint} id="import-file-hint">
          {fileHints[kind] ?? "Saved as CSV or TSV from any spreadsheet"}; at most {megabytes} MB.
        </span>
        {fileFault && (
          <span className={form.fault} id="import-file-fault">
            {fileFault}
          </span>
        )}
        <input
          key={String(isMany)}
          id="import-file"
          name="file"
          type="file"
          multiple={isMany}
          className={form.input}
          aria-describedby={["import-file-hint", fileFault ? "import-file-fault" : ""].join(" ").trim()}
        />
      </div>
      <SendButton manner="main">Read the file</SendButton>
    </form>
  );
}
