"use client";

import styles from "@/app/_field/field.module.css";
import { TapButton } from "@/app/_field/tap-button";
import type { FieldBed, FieldPack } from "@/lib/sync/field-pack";
import { type Day, sayDay } from "@/lib/words/day";
import bedStyles from "./bed.module.css";

/** The bed's name, where it stands in the round, and on a round from paper its day. */
export function BedHead({
  pack,
  bed,
  paperOn,
  onBeds,
}: {
  pack: FieldPack;
  bed: FieldBed;
  paperOn: Day | null;
  onBeds: () => void;
}) {
  const inTurn = pack.beds.indexOf(bed) + 1;
  return (
    <>
      <div className={bedStyles.head}>
        <h1>
          {bed.name}
          <span className={styles.hidden}>
            , bed {inTurn} of {pack.beds.length}
          </span>
        </h1>
        <TapButton manner="quiet" onTap={onBeds}>
          Bed {inTurn} of {pack.beds.length}
        </TapButton>
      </div>
      {paperOn !== null && <p className={styles.warning}>From paper: {sayDay(paperOn, true)}</p>}
    </>
  );
}
