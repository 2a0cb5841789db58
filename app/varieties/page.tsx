import type { Metadata } from "next";
import Link from "next/link";
import { DataTable } from "@/app/_ui/data-table";
import { DemoNote } from "@/app/_ui/demo-note";
import styles from "@/app/_ui/page.module.css";
import { PageHeader } from "@/app/_ui/page-header";
import { Section } from "@/app/_ui/section";
import { openHouse } from "@/lib/service/house";
import { type VarietyLine, varietyList } from "@/lib/service/variety-list";
import { beginSentence } from "@/lib/words/begin-sentence";
import { sayDay } from "@/lib/words/day";

export const metadata: Metadata = { title: "Varieties" };

/** What is known of each variety: the packet's claim beside the trials that it has stood in. */
export default function VarietiesPage() {
  const crops = varietyList(openHouse());
  return (
    <>
      <DemoNote />
      <PageHeader title="Varieties" />
      {crops.length === 0 && (
        <p>
          There is none yet. Varieties are named when <Link href="/trials/new">a trial is planned</Link>.
        </p>
      )}
      {crops.map(({ crop, varieties }) => (
        <Section key={crop} title={beginSentence(crop)}>
          <DataTable
            caption={`Varieties of ${crop}`}
            captionHidden
            columns={[{ heading: "Variety" }, { heading: "The packet says" }, { heading: "Trials here" }]}
            rows={varieties.map((variety) => [
              variety.name,
              variety.packetClaim ?? <span className={styles.soft}>nothing noted</span>,
              <Trials key={variety.id} trials={variety.trials} />,
            ])}
          />
        </Section>
      ))}
    </>
  );
}

function Trials({ trials }: { trials: VarietyLine["trials"] }) {
  if (trials.length === 0) return <span className={styles.soft}>none</span>;
  return (
    <ul className={`${styles.lines} ${styles.tight}`}>
      {trials.map((trial) => (
        <li key={trial.id}>
          <Link href={`/trials/${trial.id}/results`}>{trial.question}</Link>
          <p className={styles.aside}>
            Planted out {sayDay(trial.plantedOn, true)};{" "}
            {trial.verdict ? `verdict: ${trial.verdict}` : "no verdict yet"}.
          </p>
        </li>
      ))}
    </ul>
  );
}
