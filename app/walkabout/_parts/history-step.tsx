"use client";

import { FactLine } from "@/app/_field/fact-line";
import styles from "@/app/_field/field.module.css";
import { useDeviceState } from "@/app/_field/use-device";
import type { Place } from "@/app/_field/write-anew";
import { type PastFact, pastOfBed, pastOfPlot } from "@/lib/sync/device/past-facts";
import type { FieldPack } from "@/lib/sync/field-pack";
import type { Fact } from "@/lib/words/bed-fact";
import { removalReasons } from "@/lib/words/cause";

/** All that this phone knows of a plot; each fact that counts can be put right here, without a signal too. */
export function HistoryStep({ pack, plotId, by }: { pack: FieldPack; plotId: string; by: string }) {
  const { entries } = useDeviceState();
  const places = pack.beds.flatMap((bed) =>
    bed.plots.map((plot) => ({ id: plot.id, words: `${bed.name}, ${plot.code}` })),
  );
  return <Past past={pastOfPlot(pack, entries, plotId)} pack={pack} places={places} by={by} />;
}

/** The same of a bed as a whole, as far back as this phone goes. */
export function BedHistoryStep({ pack, bedId, by }: { pack: FieldPack; bedId: string; by: string }) {
  const { entries } = useDeviceState();
  const places = pack.beds.map((bed) => ({ id: bed.id, words: bed.name }));
  return <Past past={pastOfBed(pack, entries, bedId)} pack={pack} places={places} by={by} />;
}

function Past({
  past,
  pack,
  places,
  by,
}: {
  past: PastFact<Fact>[];
  pack: FieldPack;
  places: Place[];
  by: string;
}) {
  if (past.length === 0) return <p>Nothing has been recorded here yet.</p>;
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
