import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { Section } from "@/app/_ui/section";
import { openHouse } from "@/lib/service/house";
import { trialView } from "@/lib/service/trial-view";
import { writeDay } from "@/lib/words/day";
import { TakeOutPlotForm } from "./_parts/take-out-plot-form";

export const metadata: Metadata = { title: "Take a plot out" };

/** A plot lost to an accident, or planted wrongly: taken out from a day on, with the reason, and never silently. */
export default async function TakeOutPlotPage({ params }: { params: Promise<{ id: string }> }) {
  const trial = trialView(openHouse(), (await params).id);
  if (!trial) notFound();
  const varieties = new Map(trial.entries.map((entry) => [entry.id, entry.variety]));
  return (
    <Section title="Take a plot out">
      <p>
        For what has nothing to do with the variety: a cover blown off one plot, a dog, a plot planted with
        another variety, a variety that did not come up. A plot that did badly stays in. What was recorded of
        it is kept, and the results say that it was taken out.
      </p>
      <TakeOutPlotForm
        values={{ trialId: trial.id, fromOn: writeDay(trial.today) }}
        varieties={trial.entries.map((entry) => entry.variety)}
        plantedOn={writeDay(trial.plantedOn)}
        plots={[
          ...trial.plots.map((plot) => ({
            value: plot.id,
            words: `${plot.code}, ${varieties.get(plot.entryId)}`,
          })),
          ...trial.entries.map((entry) => ({
            value: `entry ${entry.id}`,
            words: `Every plot of ${entry.variety}`,
          })),
        ]}
      />
    </Section>
  );
}
