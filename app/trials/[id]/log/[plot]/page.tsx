import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { openHouse } from "@/lib/service/house";
import { plotHistory } from "@/lib/service/plot-history";
import { PlotFacts } from "./_parts/plot-facts";

export const metadata: Metadata = { title: "History of a plot" };

/** All that was ever recorded of one plot, in order, each fact with the way to put it right. */
export default async function PlotHistoryPage({ params }: { params: Promise<{ id: string; plot: string }> }) {
  const { id, plot: plotId } = await params;
  const history = plotHistory(openHouse(), plotId);
  if (history === null || history.plot.trialId !== id) notFound();
  const { plot, facts, plots, causes } = history;
  return (
    <div>
      <h2>
        {plot.code} {plot.variety}: everything recorded
      </h2>
      <PlotFacts of={`${plot.code} ${plot.variety}`} facts={facts} plots={plots} causes={causes} />
      <p>
        <Link href={`/trials/${id}/log`}>The trial’s log</Link>
      </p>
    </div>
  );
}
