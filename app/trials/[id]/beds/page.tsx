import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { BedSheet } from "@/app/_ui/bed-sheet";
import styles from "@/app/_ui/page.module.css";
import { openHouse } from "@/lib/service/house";
import { trialView } from "@/lib/service/trial-view";
import { sayDay } from "@/lib/words/day";
import { sayLengthMm } from "@/lib/words/length";
import { firstPlotWords } from "../../_parts/first-plot-words";
import { PaperPlaces } from "../_parts/paper-places";

export const metadata: Metadata = { title: "Layout" };

/** The layout as it was dealt, to scale, with the stake codes: to be printed and taken out to plant by. */
export default async function LayoutPage({ params }: { params: Promise<{ id: string }> }) {
  const trial = trialView(openHouse(), (await params).id);
  if (!trial) notFound();
  const entries = new Map(trial.entries.map((entry) => [entry.id, entry]));
  const plots = trial.plots.map((plot) => ({
    ...plot,
    variety: entries.get(plot.entryId)?.variety ?? "",
    isCheck: entries.get(plot.entryId)?.role === "check",
  }));
  const [plot] = trial.plots;
  return (
    <>
      <PaperPlaces trialId={trial.id} here="/beds" />
      <p>
        {plot.plants} plants in each plot, in {plot.plantRows} {plot.plantRows === 1 ? "row" : "rows"} along
        the bed: {sayLengthMm(trial.betweenPlantsMm)} from plant to plant, {sayLengthMm(trial.betweenRowsMm)}{" "}
        from row to row. A plot is {sayLengthMm(plot.widthMm)} across the bed and {sayLengthMm(plot.lengthMm)}{" "}
        along it. To be planted out on {sayDay(trial.plantedOn, true)}.
      </p>
      <p>
        Stand at the path end and look along the bed: {firstPlotWords(trial.pathSide)}.{" "}
        {trial.beds.some((bed) => bed.potMm !== null)
          ? "Each plot is a pot of the row."
          : "Measure from the corner at your left hand."}
      </p>
      <p>
        Plant it as it is drawn, even where a favourite falls on a bad spot: that is what makes it fair. Dealt
        from seed {trial.seed}. The check has the heavy rim.
      </p>
      <p className={styles.screenOnly}>
        This page prints on A4 or Letter, in black and white; each bed has its sheet.
      </p>
      {trial.beds.map((bed) => (
        <BedSheet
          key={bed.id}
          bed={bed}
          plots={plots.filter((row) => row.bedId === bed.id)}
          levels={trial.levels.map((level) => level.words)}
          companions={[
            ...trial.companions.map((row) => ({ ...row, under: null })),
            ...trial.levels.flatMap(({ companion, words }) =>
              companion ? { ...companion, under: words } : [],
            ),
          ]}
          isTableOpen
        />
      ))}
    </>
  );
}
