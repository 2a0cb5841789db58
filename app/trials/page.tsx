import type { Metadata } from "next";
import Link from "next/link";
import { LinkButton } from "@/app/_ui/button";
import { DemoNote } from "@/app/_ui/demo-note";
import styles from "@/app/_ui/page.module.css";
import { PageHeader } from "@/app/_ui/page-header";
import { Section } from "@/app/_ui/section";
import { gardenView, type TrialLine } from "@/lib/service/garden-view";
import { openHouse } from "@/lib/service/house";
import { beginSentence } from "@/lib/words/begin-sentence";
import { sayDay } from "@/lib/words/day";

export const metadata: Metadata = { title: "Trials" };

const headings = { running: "In the ground", planned: "Planned", closed: "Closed" } as const;

/** What we are finding out: each trial's question and where it stands. */
export default function TrialsPage() {
  const { trials } = gardenView(openHouse());
  return (
    <>
      <DemoNote />
      <PageHeader title="Trials" />
      <div className={styles.acts}>
        <LinkButton href="/trials/new">Plan a trial</LinkButton>
      </div>
      {trials.length === 0 && <p>There is no trial yet.</p>}
      {(["running", "planned", "closed"] as const).map((state) => {
        const lines = trials.filter((trial) => trial.state === state);
        if (lines.length === 0) return null;
        return (
          <Section key={state} title={headings[state]}>
            <ul className={styles.lines}>
              {lines.map((trial) => (
                <li key={trial.id}>
                  <Link href={state === "planned" ? `/trials/${trial.id}` : `/trials/${trial.id}/results`}>
                    {trial.question}
                  </Link>
                  <p className={styles.aside}>
                    {standingOf(trial)}
                    {trial.verdictsOwed > 0 && (
                      <>
                        {" "}
                        <Link href={`/trials/${trial.id}/verdict`}>
                          {trial.verdictsOwed === 1
                            ? "One verdict is still to be given."
                            : `${trial.verdictsOwed} verdicts are still to be given.`}
                        </Link>
                      </>
                    )}
                  </p>
                </li>
              ))}
            </ul>
          </Section>
        );
      })}
    </>
  );
}

function standingOf(trial: TrialLine): string {
  const planted = trial.state === "planned" ? "to be planted out" : "planted out";
  const next = trial.nextAssessment
    ? ` Next looked at for “${trial.nextAssessment.name}” on ${sayDay(trial.nextAssessment.dueOn, true)}.`
    : "";
  return `${beginSentence(trial.crop)} in ${trial.bedNames.join(" and ")}, ${planted} ${sayDay(trial.plantedOn, true)}.${next}`;
}
