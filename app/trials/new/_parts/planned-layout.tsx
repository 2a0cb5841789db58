"use client";

import { BedSheet } from "@/app/_ui/bed-sheet";
import styles from "@/app/_ui/page.module.css";
import { Section } from "@/app/_ui/section";
import { firstPlotWords } from "../../_parts/first-plot-words";
import type { Drawn } from "../actions";
import planStyles from "./plan.module.css";
import { sizeWords } from "./size-words";

/** The layout as the plan stands: beside the fields on a wide screen, among them on a narrow one. */
export function PlannedLayout({ drawn, values }: { drawn: Drawn | null; values: Record<string, string> }) {
  const sketch = drawn?.sketch ?? null;
  return (
    <div className={planStyles.layout}>
      <Section title="The layout" id="layout">
        <div aria-live="polite">
          {drawn && drawn.whyNot.length > 0 && (
            <div className={styles.caution}>
              <p>
                <strong>It cannot be drawn as it stands.</strong>
              </p>
              <ul>
                {drawn.whyNot.map((words) => (
                  <li key={words}>{words}</li>
                ))}
              </ul>
            </div>
          )}
        </div>
        {sketch && (
          <>
            <p>{sizeWords(sketch)}.</p>
            {sketch.beds.map((bed) => (
              <BedSheet
                key={bed.id}
                bed={bed}
                plots={sketch.plots.filter((plot) => plot.bedId === bed.id)}
                levels={sketch.levels}
                companions={sketch.companions}
                isTableOpen={false}
              />
            ))}
            <p className={styles.soft}>
              To scale; standing at the path end and looking along the bed, {firstPlotWords(values.pathSide)}.
              The check has the heavy rim. Dealt from seed {values.seed}.
            </p>
          </>
        )}
      </Section>
    </div>
  );
}

/** The layout in one line, for a narrow screen on which the drawing has scrolled away. */
export function LayoutInSight({ drawn }: { drawn: Drawn | null }) {
  if (!drawn) return null;
  return (
    <p className={planStyles.inSight}>
      {drawn.sketch ? (
        <>
          {sizeWords(drawn.sketch)}. <a href="#layout-heading">See the layout</a>
        </>
      ) : (
        <>
          It does not fit or cannot be read as it stands. <a href="#layout-heading">See why</a>
        </>
      )}
    </p>
  );
}
