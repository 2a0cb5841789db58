import type { Metadata } from "next";
import Link from "next/link";
import { DemoNote } from "@/app/_ui/demo-note";
import styles from "@/app/_ui/page.module.css";
import { PageHeader } from "@/app/_ui/page-header";
import { Section } from "@/app/_ui/section";
import { bedsView, type TrialInBed } from "@/lib/service/beds-view";
import { openHouse } from "@/lib/service/house";
import { sayBedFact } from "@/lib/words/bed-fact";
import { beginSentence } from "@/lib/words/begin-sentence";
import { sayDay } from "@/lib/words/day";
import { sayLengthMm } from "@/lib/words/length";

export const metadata: Metadata = { title: "Garden" };

/** Of what was told of a bed lately, so many are shown. */
const mostLately = 4;

/** What is where, since when, under what: the beds in walking order with the trials that they hold and held. */
export default function GardenPage() {
  const { garden, beds } = bedsView(openHouse());
  return (
    <>
      <DemoNote />
      <PageHeader
        title="Garden"
        lead={
          garden &&
          `${garden.name}, ${sayDegrees(garden.latitude, "N", "S")}, ${sayDegrees(garden.longitude, "E", "W")}; the day begins by the clock of ${garden.timeZone}.`
        }
      />
      {beds.length === 0 && (
        <p>
          There is no bed yet. A bed is named when <Link href="/trials/new">a trial is planned</Link> in it.
        </p>
      )}
      {beds.map((bed) => (
        <Section key={bed.id} title={bed.name}>
          <p className={styles.soft}>
            {sayLengthMm(bed.widthMm)} × {sayLengthMm(bed.lengthMm)}, {bed.setting}
          </p>
          {bed.lately.length > 0 && (
            <p>
              Lately:{" "}
              {bed.lately
                .slice(0, mostLately)
                .map((fact) => `${sayBedFact(fact)} (${sayDay(fact.seenOn)})`)
                .join("; ")}
              .
            </p>
          )}
          {bed.trials.length === 0 && <p>No trial has stood here.</p>}
          <ul className={styles.lines}>
            {bed.trials.map((trial) => (
              <li key={trial.id}>
                {spanOf(trial)}: <Link href={`/trials/${trial.id}`}>{trial.question}</Link>
                <p className={styles.aside}>
                  {beginSentence(trial.crop)}; {coversOf(trial)}.
                </p>
              </li>
            ))}
          </ul>
          {bed.earlier > 0 && (
            <p className={styles.soft}>
              {bed.earlier === 1 ? "One trial" : `${bed.earlier} trials`} stood here before:{" "}
              <Link href="/trials">all trials</Link>.
            </p>
          )}
        </Section>
      ))}
    </>
  );
}

function sayDegrees(degrees: number, plus: string, minus: string): string {
  return `${Math.abs(degrees)}° ${degrees < 0 ? minus : plus}`;
}

function spanOf({ plantedOn, closedOn, clearBy }: TrialInBed): string {
  const from = sayDay(plantedOn, true);
  if (closedOn) return `${from} to ${sayDay(closedOn, true)}`;
  return clearBy ? `${from}, bed wanted by ${sayDay(clearBy, true)}` : `From ${from}`;
}

function coversOf({ covers }: TrialInBed): string {
  if (covers.length === 0) return "open ground";
  return covers
    .map(({ name, fromOn, untilOn }) => {
      const until = untilOn ? ` to ${sayDay(untilOn, true)}` : "";
      return `${name} from ${sayDay(fromOn, true)}${until}`;
    })
    .join("; ");
}
