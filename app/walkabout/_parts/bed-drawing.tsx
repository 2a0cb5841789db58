"use client";

import { memo, useEffect, useMemo, useRef, useState } from "react";
import { TapButton } from "@/app/_field/tap-button";
import type { Mark } from "@/lib/sync/device/plot-marks";
import type { PlotView } from "@/lib/sync/device/plot-view";
import type { FieldBed, FieldPlot } from "@/lib/sync/field-pack";
import styles from "./bed.module.css";
import { type LaidPlot, layBed } from "./lay-bed";
import { PlantMark } from "./plant-mark";

const narrowestPx = 344;
/** From this width on a plot's variety stands beside its stake code. */
const namedFromPx = 130;

const markWords: Record<Mark["is"], string> = { standing: "standing", doubtful: "doubtful", gap: "gap" };

/** How a plot is said aloud, and to whoever cannot see the drawing. */
export function sayPlotView(view: PlotView): string {
  const { plot, standing, marks } = view;
  const parts = [plot.code, plot.variety];
  parts.push(view.endedOn === null ? `${standing} of ${marks.length} standing` : "ended");
  if (view.questions.length > 0) parts.push("to be settled");
  return parts.join(", ");
}

/**
 * A whole bed as it lies: plots with their stake codes, each plant a mark to be tapped. `onMark` and `onPlot` stay the
 * same from one drawing to the next, or every plot is drawn anew.
 */
export function BedDrawing({
  bed,
  views,
  onMark,
  onPlot,
}: {
  bed: FieldBed;
  views: Map<string, PlotView>;
  onMark: (plotId: string, place: number) => void;
  onPlot: (plotId: string) => void;
}) {
  const frame = useRef<HTMLDivElement>(null);
  const [widthPx, setWidthPx] = useState(narrowestPx);
  useEffect(() => {
    const watched = frame.current;
    if (!watched) return;
    const watcher = new ResizeObserver(([entry]) => setWidthPx(Math.max(240, entry.contentRect.width)));
    watcher.observe(watched);
    return () => watcher.disconnect();
  }, []);
  const marksOf = (plot: FieldPlot) => views.get(plot.id)?.marks.length ?? plot.plants;
  // Laid anew only when a plot is drawn with another number of marks: a tap leaves the others as they are drawn.
  const counts = bed.plots.map(marksOf).join();
  const laid = useMemo(() => {
    const countOf = new Map(counts.split(",").map((count, index) => [bed.plots[index].id, Number(count)]));
    return layBed(bed, widthPx, (plot) => countOf.get(plot.id) ?? plot.plants);
  }, [bed, widthPx, counts]);
  return (
    <div ref={frame} className={styles.bed} style={{ height: laid.heightPx }}>
      {laid.plots.map((place) => {
        const view = views.get(place.plot.id);
        return view ? (
          <DrawnPlot key={place.plot.id} place={place} view={view} onMark={onMark} onPlot={onPlot} />
        ) : null;
      })}
    </div>
  );
}

const DrawnPlot = memo(function DrawnPlot({
  place,
  view,
  onMark,
  onPlot,
}: {
  place: LaidPlot;
  view: PlotView;
  onMark: (plotId: string, place: number) => void;
  onPlot: (plotId: string) => void;
}) {
  const { plot } = place;
  const ended = view.endedOn !== null;
  const columns = { gridTemplateColumns: `repeat(${place.markColumns}, 1fr)` };
  const gaps = view.marks.filter((mark) => mark.is === "gap").length;
  return (
    <fieldset
      aria-label={`Plot ${plot.code}`}
      className={place.stakePx === null ? styles.plot : `${styles.plot} ${styles.beside}`}
      style={{ left: place.leftPx, top: place.topPx, width: place.widthPx, height: place.heightPx }}
    >
      <TapButton
        bare
        className={place.direct && !ended ? styles.stake : styles.whole}
        aria-label={`Open ${sayPlotView(view)}`}
        style={place.stakePx === null || !place.direct || ended ? undefined : { flexBasis: place.stakePx }}
        onTap={() => onPlot(plot.id)}
      >
        <span
          className={styles.code}
          style={place.stakePx === null ? undefined : { flexBasis: place.stakePx }}
        >
          <span>
            <strong>{plot.code}</strong>
            {view.questions.length > 0 && <strong> ?</strong>}
            {(place.stakePx !== null || place.widthPx >= namedFromPx) && ` ${plot.variety}`}
          </span>
          {ended ? (
            <span>ended</span>
          ) : (
            (gaps > 0 || !place.direct) && (
              <span>
                {view.standing} of {view.marks.length}
              </span>
            )
          )}
        </span>
        {place.small && !ended && (
          <span className={styles.small} style={columns}>
            {view.marks.map((mark) => (
              <PlantMark key={mark.place} mark={mark} />
            ))}
          </span>
        )}
      </TapButton>
      {place.direct && !ended && (
        <div className={styles.marks} style={columns}>
          {view.marks.map((mark) => (
            <TapButton
              bare
              key={mark.place}
              className={styles.mark}
              aria-label={`${plot.code}, plant ${mark.place + 1}, ${markWords[mark.is]}`}
              onTap={() => onMark(plot.id, mark.place)}
            >
              <PlantMark mark={mark} />
            </TapButton>
          ))}
        </div>
      )}
    </fieldset>
  );
});
