"use client";

import { TapButton } from "@/app/_field/tap-button";
import styles from "./bed.module.css";

const damageAnchors: Record<number, string> = { 0: "none", 3: "slight", 6: "heavy", 9: "all" };
const qualityAnchors: Record<number, string> = { 0: "none", 3: "weak", 6: "good", 9: "best" };

/** What the cells mean at 0, 3, 6 and 9: for damage how much there is of it, for a quality how much there is to like. */
function anchorsOf(trait: string): Record<number, string> {
  return /damage|mildew|rot|holes|yellow|bitter/i.test(trait) ? damageAnchors : qualityAnchors;
}

/** Ten cells, 0 to 9, with words at 0, 3, 6 and 9; nothing is chosen beforehand. */
export function ScoreCells({ trait, onScore }: { trait: string; onScore: (score: number) => void }) {
  const anchors = anchorsOf(trait);
  return (
    <fieldset className={styles.causes}>
      <legend className={styles.ask}>{trait}</legend>
      <div className={styles.cells}>
        {Array.from({ length: 10 }, (_, score) => (
          <TapButton key={score} className={styles.cell} onTap={() => onScore(score)}>
            <span className={styles.cellFigure}>{score}</span>
            {anchors[score] && <span>{anchors[score]}</span>}
          </TapButton>
        ))}
      </div>
    </fieldset>
  );
}
