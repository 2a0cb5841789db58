"use client";

import type { ReactNode } from "react";
import fieldStyles from "@/app/_field/field.module.css";
import { sayPackCause } from "@/app/_field/say-fact";
import { TapButton } from "@/app/_field/tap-button";
import type { FieldPack } from "@/lib/sync/field-pack";
import styles from "./bed.module.css";

/** The two answers that name no cause; they always stand at the same place, whatever causes a garden adds. */
const honest = ["no-sign", "unknown"];

/**
 * The causes in their one fixed order. The last three used are repeated in a row of their own, labelled as such: a list
 * that put them first would lead the hand, and the cause is data.
 */
export function CauseChoice({
  pack,
  recent,
  onCause,
  children,
}: {
  pack: FieldPack;
  recent: string[];
  onCause: (cause: string) => void;
  /** Answers that are no cause; they stand between the causes and the two honest ones. */
  children: ReactNode;
}) {
  const known = new Set(pack.causes.map((cause) => cause.code));
  const again = recent.filter((cause) => known.has(cause));
  return (
    <>
      {again.length > 0 && (
        <fieldset className={styles.recent}>
          <legend>Used last</legend>
          <div className={styles.grid}>
            {again.map((cause) => (
              <TapButton key={cause} manner="quiet" onTap={() => onCause(cause)}>
                {sayPackCause(pack, cause)}
              </TapButton>
            ))}
          </div>
        </fieldset>
      )}
      <fieldset className={styles.causes}>
        <legend className={fieldStyles.hidden}>All causes</legend>
        <div className={styles.grid}>
          {pack.causes
            .filter((cause) => !honest.includes(cause.code))
            .map((cause) => (
              <TapButton key={cause.code} onTap={() => onCause(cause.code)}>
                {cause.words}
              </TapButton>
            ))}
        </div>
      </fieldset>
      <div className={styles.pair}>{children}</div>
      <div className={styles.honest}>
        {honest.map((cause) => (
          <TapButton key={cause} onTap={() => onCause(cause)}>
            {sayPackCause(pack, cause)}
          </TapButton>
        ))}
      </div>
    </>
  );
}
