"use client";

import { useRouter } from "next/navigation";
import { useEffect, useState } from "react";
import { AskName } from "@/app/_field/ask-name";
import { FactLine } from "@/app/_field/fact-line";
import styles from "@/app/_field/field.module.css";
import { OutboxStrip } from "@/app/_field/outbox-strip";
import { StatusLine } from "@/app/_field/status-line";
import { useDeviceState } from "@/app/_field/use-device";
import type { Place } from "@/app/_field/write-anew";
import type { PlotHistory } from "@/lib/service/plot-history";
import { SmallPicture } from "../../_parts/small-picture";

/**
 * The facts of a plot with the way to put each right. What is written goes through this device's outbox like any other
 * fact; the page is drawn anew once home has it.
 */
export function PlotFacts({
  of,
  facts,
  plots,
  causes,
}: {
  /** The plot by its code and variety. */
  of: string;
  facts: PlotHistory["facts"];
  plots: Place[];
  causes: PlotHistory["causes"];
}) {
  const state = useDeviceState();
  const router = useRouter();
  const [naming, setNaming] = useState(false);
  const waits = state.entries.filter((entry) => entry.state === "waiting").length;
  const arrived = state.entries.filter((entry) => entry.state === "home").length;
  useEffect(() => {
    if (waits === 0 && arrived > 0) router.refresh();
  }, [waits, arrived, router]);
  const { by } = state.kept;
  return (
    <div className={`${styles.field} ${styles.inPage}`} data-hand={state.kept.hand ?? "right"}>
      <OutboxStrip state={state} />
      <StatusLine />
      {state.ready && (by === null || naming) && (
        <AskName question="Who puts right?" name={by ?? ""} onDone={() => setNaming(false)} />
      )}
      {facts.length === 0 && <p>Nothing has been recorded of this plot yet.</p>}
      <ol className={styles.facts}>
        {facts.map((line) => (
          <FactLine
            key={line.id}
            fact={line}
            state={line.state}
            by={by}
            places={plots}
            causes={causes.filter((cause) => cause.takes === (line.kind === "removed" ? "removal" : "loss"))}
            picture={
              line.picture &&
              (line.pictureHome ? (
                <SmallPicture name={line.picture} of={of} day={line.seenOn} />
              ) : (
                " (the picture is still on the phone)"
              ))
            }
          />
        ))}
      </ol>
    </div>
  );
}
