import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import styles from "@/app/_ui/page.module.css";
import { openHouse } from "@/lib/service/house";
import { trialView } from "@/lib/service/trial-view";
import { sayDay } from "@/lib/words/day";
import { PaperPlaces } from "../_parts/paper-places";
import labelStyles from "./labels.module.css";

export const metadata: Metadata = { title: "Stake labels" };

interface StakeLabelsProps {
  params: Promise<{ id: string }>;
  searchParams: Promise<{ blind?: string }>;
}

/** A label for every stake: its code large, and the variety, or nothing of it where looking is to be blind. */
export default async function StakeLabelsPage({ params, searchParams }: StakeLabelsProps) {
  const { id } = await params;
  const isBlind = (await searchParams).blind === "yes";
  const trial = trialView(openHouse(), id);
  if (!trial) notFound();
  const varieties = new Map(trial.entries.map((entry) => [entry.id, entry.variety]));
  return (
    <>
      <PaperPlaces trialId={id} here="/stake-labels" />
      <p className={styles.screenOnly}>
        {trial.plots.length} labels, three across, on A4 or Letter.{" "}
        {isBlind ? (
          <Link href={`/trials/${id}/stake-labels`}>With the varieties’ names</Link>
        ) : (
          <Link href={`/trials/${id}/stake-labels?blind=yes`}>Without the varieties’ names</Link>
        )}
      </p>
      {trial.beds.map((bed) => (
        <ul key={bed.id} className={labelStyles.labels} aria-label={`Labels for ${bed.name}`}>
          {trial.plots
            .filter((plot) => plot.bedId === bed.id)
            .map((plot) => (
              <li key={plot.id} className={labelStyles.label}>
                <span className={labelStyles.code}>{plot.code}</span>
                {!isBlind && <span className={labelStyles.variety}>{varieties.get(plot.entryId)}</span>}
                <span className={labelStyles.small}>
                  {bed.name}
                  {plot.under && `, ${plot.under}`}
                  <br />
                  {trial.crop}, {sayDay(trial.plantedOn, true)}
                </span>
              </li>
            ))}
        </ul>
      ))}
    </>
  );
}
