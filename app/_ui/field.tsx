import type { HTMLAttributes, ReactNode } from "react";
import type { FieldFault } from "./field-fault";
import styles from "./form.module.css";

interface FieldProps {
  name: string;
  label: ReactNode;
  hint?: ReactNode;
  /** All faults of the form; the field finds its own. */
  faults: readonly FieldFault[];
  value: string;
}

/** The words of the fault that stands at a field or group; null when there is none. */
export function faultAt(faults: readonly FieldFault[], at: string): string | null {
  return faults.find((fault) => fault.at === at)?.words ?? null;
}

function described(name: string, hint: ReactNode, fault: string | null): string | undefined {
  return [hint ? `${name}-hint` : "", fault ? `${name}-fault` : ""].filter(Boolean).join(" ") || undefined;
}

function FieldFrame({
  name,
  label,
  hint,
  fault,
  grow = false,
  children,
}: Omit<FieldProps, "faults" | "value"> & { fault: string | null; grow?: boolean; children: ReactNode }) {
  return (
    <div className={`${styles.field} ${fault ? styles.faulty : ""} ${grow ? styles.grow : ""}`}>
      <label className={styles.label} htmlFor={name}>
        {label}
      </label>
      {hint && (
        <span className={styles.hint} id={`${name}-hint`}>
          {hint}
        </span>
      )}
      {fault && (
        <span className={styles.fault} id={`${name}-fault`}>
          {fault}
        </span>
      )}
      {children}
    </div>
  );
}

/** A line of text, whatever is asked for: numbers and dates are typed as words are, and read at home. */
export function TextField({
  suffix,
  width = "full",
  grow,
  options,
  inputMode,
  ...field
}: FieldProps & {
  suffix?: string;
  width?: "short" | "day" | "medium" | "full";
  grow?: boolean;
  /** Words that may be picked instead of typed. */
  options?: readonly string[];
  inputMode?: HTMLAttributes<HTMLInputElement>["inputMode"];
}) {
  const { name, faults, value, hint } = field;
  const fault = faultAt(faults, name);
  const input = (
    <input
      id={name}
      name={name}
      type="text"
      className={`${styles.input} ${width === "full" ? "" : styles[width]}`}
      defaultValue={value}
      inputMode={inputMode}
      autoComplete="off"
      aria-describedby={described(name, hint, fault)}
      aria-invalid={fault ? true : undefined}
      list={options && `${name}-options`}
    />
  );
  return (
    <FieldFrame {...field} fault={fault} grow={grow}>
      {suffix ? (
        <span className={styles.withSuffix}>
          {input}
          <span aria-hidden="true">{suffix}</span>
        </span>
      ) : (
        input
      )}
      {options && (
        <datalist id={`${name}-options`}>
          {options.map((option) => (
            <option key={option} value={option} />
          ))}
        </datalist>
      )}
    </FieldFrame>
  );
}

/** Several lines of text. */
export function TextArea({ rows = 3, grow, ...field }: FieldProps & { rows?: number; grow?: boolean }) {
  const { name, faults, value, hint } = field;
  const fault = faultAt(faults, name);
  return (
    <FieldFrame {...field} fault={fault} grow={grow}>
      <textarea
        id={name}
        name={name}
        rows={rows}
        className={styles.input}
        defaultValue={value}
        aria-describedby={described(name, hint, fault)}
        aria-invalid={fault ? true : undefined}
      />
    </FieldFrame>
  );
}

/** One of a list too long for tiles. */
export function SelectField({
  options,
  width = "medium",
  ...field
}: FieldProps & {
  options: readonly { value: string; words: string }[];
  width?: "short" | "medium" | "full";
}) {
  const { name, faults, value, hint } = field;
  const fault = faultAt(faults, name);
  return (
    <FieldFrame {...field} fault={fault}>
      <select
        id={name}
        name={name}
        className={`${styles.input} ${width === "full" ? "" : styles[width]}`}
        defaultValue={value}
        aria-describedby={described(name, hint, fault)}
        aria-invalid={fault ? true : undefined}
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
