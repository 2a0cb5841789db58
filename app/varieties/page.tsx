import type { Metadata } from "next";
import Link from "next/link";
import { Suspense } from "react";
import { DemoNote } from "@/app/_ui/demo-note";
import styles from "@/app/_ui/page.module.css";
import { PageHeader } from "@/app/_ui/page-header";
import { Section } from "@/app/_ui/section";
import { claimBesideProof, sayUse } from "@/lib/report/sentence-for-winters";
import { openHouse } from "@/lib/service/house";
import { type VarietyLine, varietyList, varietyProofs } from "@/lib/service/variety-list";
import { beginSentence } from "@/lib/words/begin-sentence";
import { sayDay } from "@/lib/words/day";
import listStyles from "./varieties.module.css";

export const metadata: Metadata = { title: "Varieties" };

/** More varieties than this, and one crop is shown at a time. */
const mostShown = 80;

/** What is known of each variety: the packet's claim beside what the beds proved, and the last verdict by use. */
export default async function VarietiesPage({
  searchParams,
}: {
  searchParams: Promise<{ crop?: string | string[] }>;
}) {
  const asked = (await searchParams).crop;
  const crops = varietyList(openHouse()).filter(({ varieties }) => varieties.length > 0);
  const isLong = crops.reduce((sum, { varieties }) => sum + varieties.length, 0) > mostShown;
  const open = crops.find(({ crop }) => crop === asked)?.crop ?? crops[0]?.crop;
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
          {isLong && crop !== open ? (
            <p>
              <Link href={`/varieties?crop=${encodeURIComponent(crop)}`}>
                {varieties.length === 1 ? "One variety" : `${varieties.length} varieties`} of {crop}
              </Link>
            </p>
          ) : (
            <Suspense fallback={<Lines varieties={varieties} claims={null} />}>
              <ProvedLines varieties={varieties} />
            </Suspense>
          )}
        </Section>
      ))}
    </>
  );
}

/** With what the beds proved, which may take a moment the first time. */
async function ProvedLines({ varieties }: { varieties: VarietyLine[] }) {
  const proved = await varietyProofs(openHouse(), varieties);
  return (
    <Lines
      varieties={varieties}
      claims={varieties.map(({ id, packetClaim }) => claimBesideProof(packetClaim, proved.get(id) ?? []))}
    />
  );
}

function Lines({ varieties, claims }: { varieties: VarietyLine[]; claims: string[] | null }) {
  return (
    <ul className={listStyles.varieties}>
      {varieties.map((variety, place) => (
        <li key={variety.id}>
          <Link href={`/varieties/${variety.id}`}>{variety.name}</Link>
          <p>{claims ? claims[place] : "What the beds say of it is being worked out."}</p>
          <p className={styles.aside}>
            {variety.verdicts.length === 0 && variety.trialIds.length > 0 && "No verdict yet."}
            {variety.verdicts.map(({ use, choice, decidedOn }) => (
              <span key={sayUse(use)} className={listStyles.verdict}>
                <strong>{choice}</strong> {sayUse(use)} ({sayDay(decidedOn, true)})
              </span>
            ))}
          </p>
        </li>
      ))}
    </ul>
  );
}
