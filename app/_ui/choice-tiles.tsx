import type { ReactNode } from "react";
import { faultAt } from "./field";
import type { FieldFault } from "./field-fault";
import styles from "./form.module.css";

interface Group {
  /** The id of the group, to which a fault leads. */
  name: string;
  legend: ReactNode;
  hint?: ReactNode;
  faults: readonly FieldFault[];
}

/** Fields that belong together under one legend. */
export function FieldGroup({ name, legend, hint, faults, children }: Group & { children: ReactNode }) {
  const fault = faultAt(faults, name);
  const ids = [hint ? `${name}-hint` : "", fault ? `${name}-fault` : ""].filter(Boolean).join(" ");
  return (
    <fieldset
      id={name}
      className={`${styles.group} ${fault ? styles.faulty : ""}`}
      aria-describedby={ids || undefined}
      tabIndex={-1}
    >
      <legend>{legend}</legend>
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
    </fieldset>
  );
}

export interface Choice {
  value: string;
  words: ReactNode;
  /** A second line in small. */
  more?: ReactNode;
}

/** One of a few, each a tile to press. Nothing is chosen beforehand unless a value is given. */
export function RadioTiles({ value, choices, ...group }: Group & { value: string; choices: Choice[] }) {
  return (
    <FieldGroup {...group}>
      {/* Sent when nothing is chosen, so that the answer has a place for the group. */}
      <input type="hidden" name={group.name} value="" />
      <div className={styles.tiles}>
        {choices.map((choice) => (
          <label key={choice.value} className={styles.tile}>
            <input
              type="radio"
              name={group.name}
              value={choice.value}
              defaultChecked={choice.value === value}
            />
            <span>
              {choice.words}
              {choice.more && <span className={styles.tileMore}>{choice.more}</span>}
            </span>
          </label>
        ))}
      </div>
    </FieldGroup>
  );
}

/** Any of a few; each is a field of its own, `on` when it is ticked. */
export function CheckboxTiles({ choices, ...group }: Group & { choices: (Choice & { checked: boolean })[] }) {
  return (
    <FieldGroup {...group}>
      <div className={styles.tiles}>
        {choices.map((choice) => (
          <label key={choice.value} className={styles.tile}>
            <input type="checkbox" name={choice.value} value="on" defaultChecked={choice.checked} />
            <span>
              {choice.words}
              {choice.more && <span className={styles.tileMore}>{choice.more}</span>}
            </span>
          </label>
        ))}
      </div>
    </FieldGroup>
  );
}
