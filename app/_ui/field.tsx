import type { HTMLAttributes, ReactNode } from "react";
import type { Fault } from "@/lib/words/fault";
import { fieldId, sayFault } from "./error-summary";

interface FieldProps {
  place: string;
  label: string;
  hint?: ReactNode;
  faults: Fault[];
}

function describedBy({ place, hint, faults }: FieldProps): string | undefined {
  const ids = [hint ? `${fieldId(place)}-hint` : "", faults.length > 0 ? `${fieldId(place)}-fault` : ""];
  return ids.filter(Boolean).join(" ") || undefined;
}

function FieldFrame(props: FieldProps & { children: ReactNode }) {
  const { place, label, hint, faults, children } = props;
  const id = fieldId(place);
  return (
    <div className={faults.length > 0 ? "field faulty" : "field"}>
      <label htmlFor={id}>{label}</label>
      {hint && (
        <p className="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {faults.length > 0 && (
        <p className="fault" id={`${id}-fault`}>
          {faults.map(sayFault).join(" ")}
        </p>
      )}
      {children}
    </div>
  );
}

/** A line of text to type, with its label, hint and faults. Numbers are typed as text: people write 1,5 and 120 cm. */
export function TextField({
  value,
  onType,
  short,
  inputMode,
  list,
  ...field
}: FieldProps & {
  value: string;
  onType: (value: string) => void;
  short?: boolean;
  inputMode?: HTMLAttributes<HTMLInputElement>["inputMode"];
  list?: string;
}) {
  return (
    <FieldFrame {...field}>
      <input
        type="text"
        id={fieldId(field.place)}
        name={field.place}
        className={short ? "short" : undefined}
        value={value}
        onChange={(event) => onType(event.target.value)}
        inputMode={inputMode}
        list={list}
        autoComplete="off"
        aria-invalid={field.faults.length > 0 || undefined}
        aria-describedby={describedBy(field)}
      />
    </FieldFrame>
  );
}

/** Several lines to type. */
export function LongField({
  value,
  onType,
  ...field
}: FieldProps & { value: string; onType: (value: string) => void }) {
  return (
    <FieldFrame {...field}>
      <textarea
        id={fieldId(field.place)}
        name={field.place}
        value={value}
        onChange={(event) => onType(event.target.value)}
        aria-invalid={field.faults.length > 0 || undefined}
        aria-describedby={describedBy(field)}
      />
    </FieldFrame>
  );
}

/** One of a few, from a list. */
export function SelectField({
  value,
  onType,
  options,
  ...field
}: FieldProps & {
  value: string;
  onType: (value: string) => void;
  options: { value: string; words: string }[];
}) {
  return (
    <FieldFrame {...field}>
      <select
        id={fieldId(field.place)}
        name={field.place}
        value={value}
        onChange={(event) => onType(event.target.value)}
        aria-invalid={field.faults.length > 0 || undefined}
        aria-describedby={describedBy(field)}
      >
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.words}
          </option>
        ))}
      </select>
    </FieldFrame>
  );
}
