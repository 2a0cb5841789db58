"use client";

import { FactLine } from "@/app/_field/fact-line";
import styles from "@/app/_field/field.module.css";
import { useDeviceState } from "@/app/_field/use-device";
import { plotPast } from "@/lib/sync/device/plot-past";
import type { FieldPack } from "@/lib/sync/field-pack";
import { removalReasons } from "@/lib/words/cause";

/** All that this phone knows of a plot; each fact that counts can be put right here, without a signal too. */
export function HistoryStep({ pack, plotId, by }: { pack: FieldPack; plotId: string; by: string }) {
  const { entries } = useDeviceState();
  const places = pack.beds.flatMap((bed) =>
    bed.plots.map((plot) => ({ id: plot.id, words: `${bed.name}, ${plot.code}` })),
  );
  const past = plotPast(pack, entries, plotId);
  if (past.length === 0) return <p>Nothing has been recorded of this plot yet.</p>;
  return (
    <ul className={styles.facts}>
      {past.map(({ fact, state }) => (
        <FactLine
          key={fact.id}
          fact={fact}
          state={state}
          by={by}
          places={places}
          causes={fact.kind === "removed" ? removalReasons : pack.causes}
        />
      ))}
    </ul>
  );
}
