import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { FigureWithTable } from "@/app/_ui/figure";
import { bedFigure } from "@/lib/figure/bed-figure";
import { openHouse } from "@/lib/service/house";
import { type TrialView, trialView } from "@/lib/service/trial-view";
import { sayDay } from "@/lib/words/day";
import { sayLengthMm } from "@/lib/words/length";

export const metadata: Metadata = { title: "Layout" };

/** The layout as it was dealt, to scale, with the stake codes: to be printed and taken out to plant by. */
export default async function LayoutPage({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  const trial = trialView(openHouse(), id);
  if (!trial) notFound();
  const [plot] = trial.plots;
  return (
    <>
      <p>
        {trial.crop}, planting out on {sayDay(trial.plantedOn, true)}. {plot.plants} plants in each plot, in{" "}
        {plot.plantRows} {plot.plantRows === 1 ? "row" : "rows"}; {sayLengthMm(trial.betweenPlantsMm)} between
        plants, {sayLengthMm(trial.betweenRowsMm)} between rows. A plot is {sayLengthMm(plot.widthMm)} across
        the bed and {sayLengthMm(plot.lengthMm)} along it. Measure from the left corner at the path.
      </p>
      <p className="soft">
        Dealt from seed {trial.seed}: the same seed gives the same layout. Plant it as it is drawn, even where
        the favourite falls in a bad spot; that is what makes it fair. The check is drawn with a heavy rim.
      </p>
      <p className="no-print">
        Print this page from the browser; it is made for A4 and Letter, in black and white.
      </p>
      {trial.beds.map((bed, position) => (
        <section key={bed.id} className={position > 0 ? "new-sheet" : undefined}>
          <FigureWithTable draw={(widthPx) => bedFigure({ ...bedRequest(trial, bed), widthPx })} />
        </section>
      ))}
    </>
  );
}

function bedRequest(trial: TrialView, bed: TrialView["beds"][number]) {
  const entries = new Map(trial.entries.map((entry) => [entry.id, entry]));
  const plots = trial.plots.filter((plot) => plot.bedId === bed.id);
  return {
    id: `bed-${bed.id}`,
    title: `${bed.name}: what goes where`,
    description: `${plots.length} plots drawn to scale from the left corner at the path, each with its stake code and variety.`,
    bed,
    plots: plots.map((plot) => ({
      ...plot,
      variety: entries.get(plot.entryId)?.variety ?? "",
      words: `${plot.plants} plants`,
      shade: null,
      isCheck: entries.get(plot.entryId)?.role === "check",
    })),
    wordsHeading: "to plant",
  };
}
