"use client";

import type { FormEvent } from "react";
import { SendButton } from "@/app/_ui/button";
import { DataTable } from "@/app/_ui/data-table";
import { faultAt } from "@/app/_ui/field";
import type { FieldFault } from "@/app/_ui/field-fault";
import form from "@/app/_ui/form.module.css";
import page from "@/app/_ui/page.module.css";
import type { ImportAnswer, ImportAsked } from "@/lib/service/import-asked";
import type { TableLook } from "@/lib/service/look-at-files";
import { sayDay } from "@/lib/words/day";
import styles from "./import.module.css";
import { placeInFile } from "./place-in-file";

type OpenDate = Extract<ImportAnswer, { state: "ambiguous" }>;
type Field = TableLook["fields"][number];
type Source = ImportAsked["mapping"][string];

/** A field's source as a select's value: `column 3`, `same harvest`, `typed`, or nothing. */
function choiceOf(field: Field, source: Source | undefined): string {
  if (!source) return "";
  if ("column" in source) return `column ${source.column}`;
  return field.same === null ? "typed" : `same ${source.same}`;
}

function sourceOf(value: string): Source | null {
  const [way, ...rest] = value.split(" ");
  if (way === "column") return { column: Number(rest[0]) };
  if (way === "same") return { same: rest.join(" ") };
  return way === "typed" ? { same: "" } : null;
}

/** `in line 3, column Date`. */
function placeWords(place: string): string {
  const at = placeInFile(place);
  return at ? `in line ${at.line}, column ${at.column}` : `at ${place}`;
}

/** Which column holds which field, with the first rows to look at. */
export function MapColumns({
  table,
  asked,
  faults,
  question,
  onChange,
  onTry,
}: {
  table: TableLook;
  asked: ImportAsked;
  faults: readonly FieldFault[];
  /** The date that leaves open which comes first; it stays once it was asked. */
  question: OpenDate | null;
  onChange(asked: ImportAsked): void;
  onTry(event: FormEvent): void;
}) {
  const give = (field: Field, source: Source | null) => {
    const { [field.name]: _, ...others } = asked.mapping;
    onChange({ ...asked, mapping: source ? { ...others, [field.name]: source } : others });
  };
  // What was guessed or must be there stands open; the rest is there to be opened.
  const isUsual = (field: Field) =>
    field.isRequired || field.name === "amount" || table.mapping[field.name] !== undefined;
  const ask = (field: Field) => (
    <FieldSource
      key={field.name}
      field={field}
      columns={table.columns}
      source={asked.mapping[field.name]}
      fault={faultAt(faults, `import-${field.name}`)}
      onGive={(source) => give(field, source)}
    />
  );
  const kindSource = asked.mapping.kind;
  const isOneKind = asked.kind === "observations" && kindSource !== undefined && "same" in kindSource;
  return (
    <form onSubmit={onTry} noValidate>
      <p className={page.soft}>
        {table.file}: {table.manner}.{" "}
        {table.isRemembered && "Its columns are read as the last file’s of this kind were."}
      </p>
      <DataTable
        caption="The first rows"
        columns={table.columns.map((name, index) => ({ heading: name || `Column ${index + 1}` }))}
        rows={table.rows}
      />
      <div className={styles.fields}>{table.fields.filter(isUsual).map(ask)}</div>
      {!table.fields.every(isUsual) && (
        <details>
          <summary>What else a row may tell</summary>
          <div className={styles.fields}>{table.fields.filter((field) => !isUsual(field)).map(ask)}</div>
        </details>
      )}
      {isOneKind && (
        <div className={`${form.tiles} ${styles.apart}`}>
          <label className={form.tile}>
            <input
              type="checkbox"
              checked={asked.skipBlank}
              onChange={(event) => onChange({ ...asked, skipBlank: event.target.checked })}
            />
            <span>Leave out rows without a figure</span>
          </label>
        </div>
      )}
      {question && (
        <fieldset className={form.group} id="import-dayOrder">
          <legend>In this file, what is {question.example}?</legend>
          <span className={form.hint}>
            It stands {placeWords(question.place)}; no other date of the file settles it.
          </span>
          <div className={form.tiles}>
            {(["day first", "month first"] as const).map((order) => (
              <label key={order} className={form.tile}>
                <input
                  type="radio"
                  name="dayOrder"
                  checked={asked.dayOrder === order}
                  onChange={() => onChange({ ...asked, dayOrder: order })}
                />
                <span>
                  {sayDay(question.readings[order], true)}
                  <span className={form.tileMore}>{order}</span>
                </span>
              </label>
            ))}
          </div>
        </fieldset>
      )}
      <p className={page.soft}>
        {asked.kind === "observations"
          ? "Columns without a field are kept as notes. A cause that is not listed becomes one of your own."
          : "Columns without a field are left out."}
      </p>
      <SendButton manner="main">Try it</SendButton>
    </form>
  );
}

function FieldSource({
  field,
  columns,
  source,
  fault,
  onGive,
}: {
  field: Field;
  columns: string[];
  source: Source | undefined;
  fault: string | null;
  onGive(source: Source | null): void;
}) {
  const id = `import-${field.name}`;
  const isTyped = field.same === null && source !== undefined && "same" in source;
  const described = fault ? `${id}-fault` : undefined;
  return (
    <div className={`${form.field} ${fault ? form.faulty : ""}`}>
      <label className={form.label} htmlFor={id}>
        {field.words}
        {field.isRequired ? "" : <span className={styles.optional}> (if there is one)</span>}
      </label>
      {fault && (
        <span className={form.fault} id={`${id}-fault`}>
          {fault}
        </span>
      )}
      <select
        id={id}
        className={form.input}
        value={choiceOf(field, source)}
        aria-describedby={described}
        aria-invalid={fault ? true : undefined}
        onChange={(event) => onGive(sourceOf(event.target.value))}
      >
        <option value="">{field.isRequired ? "Choose a column" : "Not in this file"}</option>
        <optgroup label="Column">
          {columns.map((name, index) => (
            <option key={index} value={`column ${index}`}>
              {name || `Column ${index + 1}`}
            </option>
          ))}
        </optgroup>
        {field.same && (
          <optgroup label="The same in every row">
            {field.same.map(({ value, words }) => (
              <option key={value} value={`same ${value}`}>
                {words}
              </option>
            ))}
          </optgroup>
        )}
        {field.same === null && <option value="typed">The same in every row…</option>}
      </select>
      {isTyped && (
        <input
          type="text"
          className={form.input}
          aria-label={`${field.words}, for every row`}
          value={"same" in source ? source.same : ""}
          onChange={(event) => onGive({ same: event.target.value })}
        />
      )}
    </div>
  );
}
